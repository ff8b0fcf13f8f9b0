import type { Limit } from "../grades/grade.js";
import { formatDecimal } from "../quantity/decimal.js";
import { kindOf } from "../quantity/quantity.js";
import type { ProductFacts } from "../requirement/product-facts.js";
import type { AppliedLimit } from "./applied-limit.js";
import { type Match, matchProduct, orientationMatches, zoneMatches } from "./conditions.js";
import type { Bracket } from "./grade-brackets.js";
import type { HeatEvidence } from "./heat-evidence.js";
import { demandOfGrade } from "./impact-demand.js";
import { judgeImpact } from "./judge-impact.js";
import { judgeLimit, undetermined } from "./judge-limit.js";
import type { Judgement, Note } from "./judgement.js";
import { worstFirst } from "./worst.js";

/** Unknown conditions decide only if every possible bracket agrees (rule of judgement 7). */
export function judgeBracket(bracket: Bracket, evidence: HeatEvidence): readonly Judgement[] {
  const inherent = inherentFacts(bracket, evidence.facts);
  const matched = bracket.map((applied) => ({ applied, match: matchLimit(applied.limit, inherent.facts, evidence) }));
  const certain = matched.filter(({ match }) => match.state === "yes");
  const possible = matched.filter(({ match }) => match.state === "unknown");
  if (certain.length === 0 && possible.length === 0) return [outsideAllBrackets(bracket, evidence)];

  const judged = certain.flatMap(({ applied }) => judgeApplied(applied, evidence));
  const open = agreeing(possible.map(({ applied, match }) => ({ judgements: judgeApplied(applied, evidence), match })));
  return [...judged, ...open].map((judgement) => ({
    ...judgement,
    notes: [...judgement.notes, ...inherent.notes],
  }));
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

/**
 * A form or condition that every bracket of a limit shares is how the standard delivers the product; where the certificate does not
 * say another, it holds.
 */
function inherentFacts(bracket: Bracket, facts: ProductFacts): { facts: ProductFacts; notes: Note[] } {
  const shared = (key: "form" | "condition"): string | undefined => {
    const texts = new Set(bracket.map(({ limit }) => JSON.stringify(limit.when?.[key] ?? null)));
    const first = bracket[0]!.limit.when?.[key]?.[0];
    return texts.size === 1 && facts[key] === undefined ? first : undefined;
  };
  const [form, condition] = [shared("form"), shared("condition")];
  const notes: Note[] = condition === undefined ? [] : [{ code: "inherent-condition", condition }];
  return {
    facts: { ...facts, ...(form !== undefined && { form }), ...(condition !== undefined && { condition }) },
    notes,
  };
}

function matchLimit(limit: Limit, facts: ProductFacts, evidence: HeatEvidence): Match {
  const product = matchProduct(limit.when, facts);
  const orientation = limit.when?.orientation;
  if (product.state === "no" || orientation === undefined) return product;
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
  const [worst] = worstFirst(all);
  if (worst === undefined) return [];
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
function outsideAllBrackets(bracket: Bracket, evidence: HeatEvidence): Judgement {
  const applied = bracket[0]!;
  const kind = kindOf(applied.limit.quantity);
  const because = describeFacts(evidence.facts);
  const judgement = undetermined(applied, evidence, "bracket-unknown", { code: "not-for-this-product", because }, []);
  const { limit: _limit, reason: _reason, ...facts } = judgement;
  if (kind === "strength" || kind === "chemistry") return { ...facts, reason: "bracket-unknown" };
  return { ...facts, outcome: "not-applicable" };
}

function describeFacts(facts: ProductFacts): string {
  const thickness = facts.thicknessMm && `${formatDecimal(facts.thicknessMm)} mm`;
  return [facts.condition, thickness, facts.form].filter((fact) => fact !== undefined).join(" ") || "this product";
}
