import type { Decimal } from "../quantity/decimal.js";
import type { ImpactRule } from "../requirement/impact-rules.js";
import { judgeRetest, type RetestAllowance, retestAllowed } from "../requirement/judge-retest.js";
import type { SetRequirement } from "../requirement/judge-set.js";
import { retestRule } from "../requirement/retest-rules.js";
import { type SetContext, undecidedImpact } from "./impact-findings.js";
import { type ImpactSet, valueIn } from "./impact-sets.js";
import type { Judgement } from "./judgement.js";
import { isVerified } from "./known.js";

/** A failed set may be repaired by a retest where the rule has one; what the rule leaves open goes to a person. */
export function afterRetest(
  { demand, quantity, unit, set }: SetContext,
  rule: ImpactRule,
  required: SetRequirement,
  first: readonly Decimal[],
  further: readonly ImpactSet[],
  findings: readonly Judgement[],
): readonly Judgement[] {
  const allowance = withKnowledge(rule, retestAllowed(rule, required, first));
  if (further.length === 0)
    return rule.retest ? findings.map((finding) => withAllowance(finding, allowance)) : findings;
  if (allowance.allowed === "no") return findings.map((finding) => withAllowance(finding, allowance));

  const singles = further.flatMap((retest) => retest.singles);
  const values = singles.map((single) => valueIn(single, unit));
  const readings = [...set.singles, ...singles];
  const toPerson = (fault: string) => [
    undecidedImpact(demand, quantity, "retest-needed", { code: "impact-set", fault }, readings),
  ];
  if (allowance.allowed === "person") return toPerson(allowance.because);
  if (!values.every((value) => value !== undefined)) return toPerson("the retest is in a unit that cannot be compared");

  const retest = judgeRetest(rule, required, first, values);
  if (retest.outcome === "undetermined") return toPerson(retest.because);
  if (retest.outcome === "fail") return findings.map((finding) => ({ ...finding, readings }));
  // A retest rule relaxes: one that is only remembered may not pass what the first set failed.
  if (!isRetestVerified(rule)) return toPerson(`the retest passes by ${rule.name}, a rule that is not verified`);
  return findings.map((finding) => passedOnRetest({ ...finding, readings }, retest.because));
}

function isRetestVerified(rule: ImpactRule): boolean {
  return isVerified(rule.known) && (rule.retest === undefined || isVerified(retestRule(rule.retest).known));
}

function withKnowledge(rule: ImpactRule, { allowed, because }: RetestAllowance): RetestAllowance {
  return { allowed, because: isRetestVerified(rule) ? because : `${because} (by a rule that is not verified)` };
}

function withAllowance(finding: Judgement, allowance: RetestAllowance): Judgement {
  if (finding.outcome !== "fail") return finding;
  return { ...finding, notes: [...finding.notes, { code: "retest", ...allowance }] };
}

function passedOnRetest(finding: Judgement, because: string): Judgement {
  if (finding.outcome === "pass") return finding;
  const { reason: _reason, ...facts } = finding;
  return { ...facts, outcome: "pass", says: { code: "passed-on-retest", because } };
}
