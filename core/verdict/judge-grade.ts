import type { LibraryGrade, Limit, ToleranceTable } from "../grades/grade.js";
import { formatDecimal } from "../quantity/decimal.js";
import { kindOf } from "../quantity/quantity.js";
import type { ProductFacts } from "../requirement/product-facts.js";
import { type AppliedLimit, labelOf } from "./applied-limit.js";
import { type Match, matchForm, matchProduct, orientationMatches, zoneMatches } from "./conditions.js";
import type { HeatEvidence } from "./heat-evidence.js";
import type { Rounding } from "./hold.js";
import { demandOfGrade } from "./impact-demand.js";
import { judgeImpact } from "./judge-impact.js";
import { judgeLimit, undetermined } from "./judge-limit.js";
import type { Judgement, Note } from "./judgement.js";
import { worstFirst } from "./worst.js";

/** Holds every limit of one grade against a heat. `rounding` is the requirement's, where it names one. */
export function judgeGrade(
  library: LibraryGrade,
  tolerances: readonly ToleranceTable[],
  evidence: HeatEvidence,
  rounding?: Rounding,
): readonly Judgement[] {
  const brackets = bracketsOf(library, tolerances, rounding);
  return [
    ...judgeForm(library, evidence),
    ...resolveAlternatives(brackets.flatMap((bracket) => judgeBracket(bracket, evidence))),
  ];
}

/** A plate may meet every number of a pipe specification and is still none of its products. */
function judgeForm({ grade }: LibraryGrade, { facts }: HeatEvidence): readonly Judgement[] {
  if (matchForm(grade.forms, facts.form) !== "no") return [];
  const source = { standard: grade.standard, edition: grade.edition.name };
  const says = { code: "form-not-covered", form: facts.form!, covered: grade.forms, holder: grade.name } as const;
  return [
    {
      outcome: "undetermined",
      reason: "bracket-unknown",
      quantity: "product form",
      readings: [],
      source,
      says,
      notes: [],
    },
  ];
}

interface Brackets {
  readonly tolerances: readonly ToleranceTable[];
  readonly rounding: Rounding | undefined;
  readonly brackets: readonly (readonly AppliedLimit[])[];
}

/** The brackets of a grade are the same for every heat, and the grade does not change while it is held. */
const LAST_BRACKETS = new WeakMap<LibraryGrade, Brackets>();

function bracketsOf(
  library: LibraryGrade,
  tolerances: readonly ToleranceTable[],
  rounding?: Rounding,
): Brackets["brackets"] {
  const last = LAST_BRACKETS.get(library);
  if (last && last.tolerances === tolerances && last.rounding === rounding) return last.brackets;
  const brackets = groupBy(appliedLimits(library, tolerances, rounding), bracketKey);
  LAST_BRACKETS.set(library, { tolerances, rounding, brackets });
  return brackets;
}

interface GradeJudgement extends Judgement {
  readonly group?: string;
}

function appliedLimits(
  { grade }: LibraryGrade,
  tolerances: readonly ToleranceTable[],
  rounding?: Rounding,
): AppliedLimit[] {
  const table = tolerances.find((candidate) => candidate.id === grade.productTolerance);
  return grade.limits.map((limit) => ({
    limit,
    id: `${grade.id}#${limit.id}`,
    holder: grade.name,
    source: { standard: grade.standard, edition: grade.edition.name, clause: limit.source.clause, known: limit.known },
    rounding: rounding ?? limit.rounding ?? grade.rounding,
    ...(table && { tolerances: table }),
    hasOwnProductLimit: grade.limits.some((other) => other.analysis === "product" && other.quantity === limit.quantity),
  }));
}

/** Limits that differ only in their conditions are brackets of one another; unconditional ones all apply. */
function bracketKey({ limit }: AppliedLimit): string {
  const own = limit.when === undefined ? limit.id : "";
  return [
    labelOf(limit),
    limit.analysis ?? "",
    limit.impact?.temperature ?? "",
    limit.when?.zone ?? "",
    limit.group ?? "",
    own,
  ].join("|");
}

function groupBy<T>(items: readonly T[], key: (item: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(key(item), [...(groups.get(key(item)) ?? []), item]);
  return [...groups.values()];
}

/** Unknown conditions decide only if every possible bracket agrees (rule of judgement 7). */
function judgeBracket(bracket: readonly AppliedLimit[], evidence: HeatEvidence): readonly GradeJudgement[] {
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
    ...(bracket[0]!.limit.group !== undefined && { group: bracket[0]!.limit.group }),
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
function inherentFacts(bracket: readonly AppliedLimit[], facts: ProductFacts): { facts: ProductFacts; notes: Note[] } {
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
function outsideAllBrackets(bracket: readonly AppliedLimit[], evidence: HeatEvidence): GradeJudgement {
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

/** Brinell or Rockwell: one must be reported and pass; the other is then not needed. */
function resolveAlternatives(judgements: readonly GradeJudgement[]): readonly Judgement[] {
  return judgements.flatMap((judgement, index) => {
    const { group, ...rest } = judgement;
    if (group === undefined || isReported(judgement)) return [rest];
    const members = judgements.filter((other) => other.group === group);
    const reported = members.find(isReported);
    if (reported) {
      const { reason: _reason, ...facts } = rest;
      const says = { code: "alternative-reported", instead: reported.quantity } as const;
      return [{ ...facts, outcome: "not-applicable" as const, readings: [], says }];
    }
    const isFirst = judgements.findIndex((other) => other.group === group) === index;
    const names = [...new Set(members.map((member) => member.quantity))].join(" or ");
    return isFirst ? [{ ...rest, quantity: names }] : [];
  });
}

/** A limit whose own quantity was read; a reading on another scale is not one of it. */
function isReported({ quantity, readings }: GradeJudgement): boolean {
  return readings.some((reading) => reading.quantity === quantity);
}
