import type { Limit } from "../grades/grade.js";
import { formatShortest } from "../quantity/decimal.js";
import { kindOf } from "../quantity/quantity.js";
import type { ProductFacts } from "../requirement/product-facts.js";
import type { AppliedLimit } from "./applied-limit.js";
import { nearerToTheLimit } from "./conclude.js";
import { type Match, orientationMatches, zoneMatches } from "./conditions.js";
import type { FittedBracket } from "./fit-grade.js";
import type { HeatEvidence } from "./heat-evidence.js";
import { demandOfGrade } from "./impact-demand.js";
import { judgeImpact } from "./judge-impact.js";
import { judgeLimit, undetermined } from "./judge-limit.js";
import type { Judgement } from "./judgement.js";
import { worstFirst } from "./worst.js";

/** Unknown conditions decide only if every possible bracket agrees (rule of judgement 7). */
export function judgeBracket(
  { first, fitting, only, notes }: FittedBracket,
  evidence: HeatEvidence,
): readonly Judgement[] {
  if (only) return judgeApplied(only, evidence);
  const matched = fitting.map(({ applied, match }) => ({ applied, match: matchTests(applied.limit, match, evidence) }));
  const certain = matched.filter(({ match }) => match.state === "yes");
  const possible = matched.filter(({ match }) => match.state === "unknown");
  if (certain.length === 0 && possible.length === 0) return [outsideAllBrackets(first, evidence)];

  const judged = certain.flatMap(({ applied }) => judgeApplied(applied, evidence));
  const open = agreeing(possible.map(({ applied, match }) => ({ judgements: judgeApplied(applied, evidence), match })));
  const judgements = [...judged, ...open];
  if (notes.length === 0) return judgements;
  return judgements.map((judgement) => ({ ...judgement, notes: [...judgement.notes, ...notes] }));
}

function judgeApplied(applied: AppliedLimit, evidence: HeatEvidence): readonly Judgement[] {
  const demand = demandOfGrade(applied);
  const judgements = demand ? judgeImpact(demand, evidence) : judgeLimit(applied, evidence);
  return applied.limit.onlyIfTested ? judgements.map(notAskedFor) : judgements;
}

/** A test that the standard leaves to the order is not missing where nobody ordered it. */
function notAskedFor(judgement: Judgement): Judgement {
  if (judgement.reason !== "not-reported") return judgement;
  const { reason: _reason, ...facts } = judgement;
  return { ...facts, outcome: "not-applicable", says: { code: "only-if-ordered" } };
}

/** A limit that fits the product may still be one of tests in another direction than those reported. */
function matchTests(limit: Limit, product: Match, evidence: HeatEvidence): Match {
  const orientation = limit.when?.orientation;
  if (orientation === undefined) return product;
  const states = evidence.readings
    .filter((reading) => reading.quantity === limit.quantity && zoneMatches(limit.when?.zone, reading.zone))
    .map((reading) => orientationMatches(orientation, reading.orientation));
  if (states.length === 0 || states.includes("yes")) return product;
  if (states.includes("unknown")) return { state: "unknown", unknown: [...product.unknown, "orientation"] };
  return { state: "no", unknown: [] };
}

/** One judgement from several possible brackets: theirs where they agree, undetermined where they do not. */
function agreeing(possible: readonly { judgements: readonly Judgement[]; match: Match }[]): readonly Judgement[] {
  const all = possible.flatMap(({ judgements }) => judgements);
  const [first] = worstFirst(all);
  if (first === undefined) return [];
  const worst = all
    .filter(({ outcome }) => outcome === first.outcome)
    .reduce((left, right) => (nearerToTheLimit(right, left) ? right : left), first);
  const unknown = [...new Set(possible.flatMap(({ match }) => match.unknown))];
  const agree = all.every((judgement) => judgement.outcome === worst.outcome);
  // A single bracket may be the only one because others do not exist: the product may lie outside it.
  const decides = agree && (worst.outcome !== "fail" || possible.length > 1);
  if (decides) return [{ ...worst, notes: [...worst.notes, { code: "all-brackets-agree", unknown }] }];
  return [
    { ...worst, outcome: "undetermined", reason: "bracket-unknown", says: { code: "brackets-disagree", unknown } },
  ];
}

/** Strength and composition without a bracket for this product leave the heat undecided; other limits then just do not apply. */
function outsideAllBrackets(applied: AppliedLimit, evidence: HeatEvidence): Judgement {
  const kind = kindOf(applied.limit.quantity);
  const because = describeFacts(evidence.facts);
  const judgement = undetermined(applied, evidence, "bracket-unknown", { code: "not-for-this-product", because }, []);
  const { limit: _limit, reason: _reason, ...facts } = judgement;
  if (kind === "strength" || kind === "chemistry") return { ...facts, reason: "bracket-unknown" };
  return { ...facts, outcome: "not-applicable" };
}

function describeFacts(facts: ProductFacts): string {
  const thickness = facts.thicknessMm && `${formatShortest(facts.thicknessMm)} mm`;
  return [facts.condition, thickness, facts.form].filter((fact) => fact !== undefined).join(" ") || "this product";
}
