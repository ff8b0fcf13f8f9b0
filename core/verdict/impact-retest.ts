import { CONFIDENCE_THRESHOLD } from "../certificate/certificate.js";
import { compare, type Decimal } from "../quantity/decimal.js";
import { measureIn } from "../quantity/measure.js";
import type { ImpactRule } from "../requirement/impact-rules.js";
import { judgeRetest, type RetestAllowance, retestAllowed } from "../requirement/judge-retest.js";
import type { SetRequirement } from "../requirement/judge-set.js";
import { retestRule } from "../requirement/retest-rules.js";
import { type SetContext, undecidedImpact } from "./impact-findings.js";
import { type ImpactSet, valueIn } from "./impact-sets.js";
import type { Judgement } from "./judgement.js";
import { isVerified } from "./known.js";

/** A set that failed, with all that its retest is judged by. */
export interface FailedSet {
  readonly context: SetContext;
  readonly rule: ImpactRule;
  readonly required: SetRequirement;
  readonly values: readonly Decimal[];
}

/** A failed set may be repaired by a retest where the rule has one; what the rule leaves open goes to a person. */
export function afterRetest(
  { context: { demand, quantity, unit, set }, rule, required, values: first }: FailedSet,
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
  if (further.some((retest) => !isSameSize(retest, set))) {
    return toPerson("the pieces of the retest are of another size than those of the set that failed");
  }
  if (singles.some(({ confidence }) => confidence < CONFIDENCE_THRESHOLD)) {
    return toPerson("the values of the retest were not read with certainty");
  }
  if (readings.some(({ bound }) => bound !== undefined)) {
    return toPerson("a set that has bounds for values was repeated");
  }
  if (!values.every((value) => value !== undefined)) return toPerson("the retest is in a unit that cannot be compared");

  const retest = judgeRetest(rule, required, first, values);
  if (retest.outcome === "undetermined") return toPerson(retest.because);
  if (retest.outcome === "fail") return findings.map((finding) => ({ ...finding, readings }));
  // A retest rule relaxes: one that is only remembered may not pass what the first set failed.
  if (!isRetestVerified(rule)) return toPerson(`the retest passes by ${rule.name}, a rule that is not verified`);
  return findings.map((finding) => passedOnRetest({ ...finding, readings }, retest.because));
}

/** The minimums were fitted to the width of the first set. A width that is not stated is taken for the full one. */
function isSameSize(left: ImpactSet, right: ImpactSet): boolean {
  if (left.oversizeWidth) return false;
  const [a, b] = [left, right].map(({ subsizeWidth }) => subsizeWidth && measureIn(subsizeWidth, "mm"));
  return a && b ? compare(a, b) === 0 : a === b;
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
