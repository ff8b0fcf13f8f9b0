import { add, compare, type Decimal, multiply } from "../quantity/decimal.js";
import { compareWithShare, integer, shareOf } from "../quantity/fraction.js";
import { divideHalfEven } from "../quantity/round.js";
import { quotientBy, type Rounding, roundedBy } from "../quantity/rounding.js";
import type { ImpactRule } from "./impact-rules.js";

/** The numbers that a set is held to, all in one unit, which is also the unit of the singles. */
export interface SetRequirement {
  readonly average?: Decimal;
  /** A stated minimum for singles; it goes before the rule's share of the average. */
  readonly single?: Decimal;
  /** Only a limit as printed is rounded to; computed ones have no last place. */
  readonly rounding: Rounding;
}

export type SetFault = "average-low" | "single-low" | "too-many-below-average";

export interface SetJudgement {
  readonly outcome: "pass" | "fail" | "undetermined";
  /**
   * Undetermined, or failed while the rest is undetermined, because pieces are missing, there are more than one set has, or the rule's
   * single minimum or the required value is not stated.
   */
  readonly reason?: "pieces-missing" | "pieces-too-many" | "single-not-stated" | "required-not-stated";
  readonly faults: readonly SetFault[];
  /**
   * For showing: recomputed from the singles, two places finer than any number it was compared with. A mean of three or
   * six cannot be that close to a printed limit without being equal to it, so what is shown never contradicts the outcome.
   */
  readonly average?: Decimal;
  /** What was compared with the required average: the mean after the rounding that applies. */
  readonly judgedAverage?: Decimal;
  /** The floor that singles were held to, stated or computed. */
  readonly singleMinimum?: Decimal;
  readonly lowest?: Decimal;
  /** What was compared with the floor: `lowest` after the rounding that applies. */
  readonly judgedLowest?: Decimal;
  readonly belowAverage: number;
  readonly belowSingle: number;
}

/** Holds one set of impact test pieces to its requirement by the named rule. Nothing is rounded but as `rounding` says. */
export function judgeSet(rule: ImpactRule, required: SetRequirement, singles: readonly Decimal[]): SetJudgement {
  const facts = describeSet(rule, required, singles);
  const faults = findFaults(rule, required, singles, facts);

  if (singles.length > rule.pieces) return judgeTooMany(rule, required, singles, facts);
  const missing = singles.length < rule.pieces ? ({ reason: "pieces-missing" } as const) : {};
  if (faults.length > 0) return { ...facts, ...missing, outcome: "fail", faults };
  if (singles.length < rule.pieces) return { ...facts, ...missing, outcome: "undetermined", faults };
  if (facts.singleMinimum === undefined && (rule.singleMustBeStated || rule.average === "none")) {
    return { ...facts, outcome: "undetermined", reason: "single-not-stated", faults };
  }
  if (required.average === undefined && facts.singleMinimum === undefined) {
    return { ...facts, outcome: "undetermined", reason: "required-not-stated", faults };
  }
  return { ...facts, outcome: "pass", faults };
}

/**
 * Too many pieces are perhaps two sets or a retest; which ones count is not for this function to guess. Where even the best of them
 * fail, every choice does.
 */
function judgeTooMany(
  rule: ImpactRule,
  required: SetRequirement,
  singles: readonly Decimal[],
  facts: SetFacts,
): SetJudgement {
  const best = judgeSet(rule, required, ascending(singles).slice(-rule.pieces));
  if (best.outcome === "fail") return { ...best, reason: "pieces-too-many" };
  return { ...facts, outcome: "undetermined", reason: "pieces-too-many", faults: [] };
}

type SetFacts = Omit<SetJudgement, "outcome" | "reason" | "faults">;
type Writable<T> = { -readonly [Key in keyof T]: T[Key] };

function describeSet(rule: ImpactRule, required: SetRequirement, singles: readonly Decimal[]): SetFacts {
  const averaged = averagedPieces(rule, singles);
  const singleMinimum = required.single ?? computedSingleMinimum(rule, required);
  const lowest = ascending(singles)[0];
  // Filled in one by one: a spread for each that may be absent costs more than all the arithmetic here.
  const facts: Writable<SetFacts> = {
    belowAverage: required.average ? countBelow(singles, required.average, required.rounding) : 0,
    belowSingle: singles.filter((single) => isBelowSingle(rule, required, single)).length,
  };
  if (averaged.length > 0) facts.average = showMean(averaged, required);
  if (averaged.length > 0 && required.average) facts.judgedAverage = judgedMean(averaged, required);
  if (singleMinimum) facts.singleMinimum = singleMinimum;
  if (lowest) {
    facts.lowest = lowest;
    facts.judgedLowest = judgedSingle(required, lowest);
  }
  return facts;
}

function findFaults(
  rule: ImpactRule,
  required: SetRequirement,
  singles: readonly Decimal[],
  facts: SetFacts,
): SetFault[] {
  const complete = singles.length === rule.pieces;
  const faults: SetFault[] = [];
  // A mean of fewer pieces than the set has may still rise; a low single or a second one below the average stays.
  if (complete && rule.average !== "none" && required.average) {
    if (isMeanBelow(averagedPieces(rule, singles), required.average, required.rounding)) faults.push("average-low");
  }
  if (facts.belowSingle > 0) faults.push("single-low");
  if (rule.belowAverageAllowed !== undefined && facts.belowAverage > rule.belowAverageAllowed) {
    faults.push("too-many-below-average");
  }
  return faults;
}

function computedSingleMinimum(rule: ImpactRule, required: SetRequirement): Decimal | undefined {
  return rule.singleShare && required.average ? shareOf(rule.singleShare, required.average) : undefined;
}

/** Whether one piece lies below the floor for singles: the stated one, else the rule's exact share of the average. */
export function isBelowSingle(rule: ImpactRule, required: SetRequirement, single: Decimal): boolean {
  if (required.single) return isBelow(single, required.single, required.rounding);
  if (!rule.singleShare || !required.average) return false;
  return compareWithShare(single, rule.singleShare, required.average) < 0;
}

/** How many values lie below a printed limit, each rounded first where the rounding method applies. */
export function countBelow(values: readonly Decimal[], limit: Decimal, rounding: Rounding): number {
  let count = 0;
  for (const value of values) if (isBelow(value, limit, rounding)) count += 1;
  return count;
}

function isBelow(value: Decimal, limit: Decimal, rounding: Rounding): boolean {
  return compare(roundedBy(rounding, value, limit.places), limit) < 0;
}

/** Whether the mean lies below a printed limit: exactly, or rounded once to the limit's last place. */
export function isMeanBelow(values: readonly Decimal[], limit: Decimal, rounding: Rounding): boolean {
  const count = integer(values.length);
  if (rounding === "absolute") return compare(sum(values), multiply(limit, count)) < 0;
  return compare(quotientBy(rounding, sum(values), count, limit.places), limit) < 0;
}

/** Only a stated minimum has a last place to round to. */
function judgedSingle({ single, rounding }: SetRequirement, lowest: Decimal): Decimal {
  return single ? roundedBy(rounding, lowest, single.places) : lowest;
}

function judgedMean(values: readonly Decimal[], required: SetRequirement): Decimal {
  if (required.rounding === "absolute" || !required.average) return showMean(values, required);
  return quotientBy(required.rounding, sum(values), integer(values.length), required.average.places);
}

function showMean(values: readonly Decimal[], required: SetRequirement): Decimal {
  const places = Math.max(...values.map((value) => value.places), required.average?.places ?? 0);
  return divideHalfEven(sum(values), integer(values.length), places + 2);
}

function averagedPieces(rule: ImpactRule, singles: readonly Decimal[]): readonly Decimal[] {
  if (rule.average === "none") return [];
  return rule.average === "mean" ? singles : ascending(singles).slice(1, -1);
}

function sum(values: readonly Decimal[]): Decimal {
  return values.reduce(add, integer(0));
}

function ascending(values: readonly Decimal[]): Decimal[] {
  return [...values].sort(compare);
}
