import type { Decimal } from "../quantity/decimal.js";
import { integer, trimPlaces } from "../quantity/fraction.js";
import type { Interval } from "../quantity/interval.js";
import { divideHalfEven } from "../quantity/round.js";
import type { Chemistry } from "./chemistry.js";
import type { Formula, FormulaResult } from "./formula.js";
import { gaps, missingFrom, parseTerms, sumAsStated, sumInterval, type Terms, type WeightedSum } from "./linear.js";

export type RatioDefinition = Omit<Formula, "compute" | "needs" | "aliases" | "validity" | "unit"> & {
  readonly aliases?: readonly string[];
  readonly upper: Terms;
  readonly lower: Terms;
};

/** A formula that divides one weighted sum of contents by another. Both only grow with every content and are never negative. */
export function ratioFormula(definition: RatioDefinition): Formula {
  const { upper, lower, ...facts } = definition;
  const upperSum = parseTerms(upper);
  const lowerSum = parseTerms(lower);
  const all = [...new Set([...upperSum.terms, ...lowerSum.terms].map((term) => term.of))];
  const needs = all.filter((of) => !facts.optional.includes(of));
  return {
    aliases: [],
    ...facts,
    unit: "1",
    needs,
    validity: [],
    compute: (chemistry) => {
      const missing = missingFrom(chemistry, needs);
      if (missing.length === 0) return computeRatio(upperSum, lowerSum, chemistry);
      const ends = divideIntervals(sumInterval(upperSum, chemistry, 0), sumInterval(lowerSum, chemistry, 0));
      return { kind: "missing", missing, ...ends };
    },
  };
}

function computeRatio(upper: WeightedSum, lower: WeightedSum, chemistry: Chemistry): FormulaResult {
  const below = sumAsStated(lower, chemistry, 0);
  if (below.digits <= 0n) return { kind: "outside-range", because: "the divisor is reported as zero" };
  const { low, high } = divideIntervals(sumInterval(upper, chemistry, 0), sumInterval(lower, chemistry, 0));
  const both = [gaps(upper, chemistry), gaps(lower, chemistry)];
  return {
    kind: "value",
    value: divide(sumAsStated(upper, chemistry, 0), below),
    low: low ?? integer(0),
    ...(high && { high }),
    notReported: [...new Set(both.flatMap((gap) => gap.notReported))],
    bounded: [...new Set(both.flatMap((gap) => gap.bounded))],
    cautions: [],
  };
}

function divideIntervals(upper: Interval, lower: Interval): Interval {
  const low = upper.low && lower.high && lower.high.digits > 0n ? divide(upper.low, lower.high) : undefined;
  const high = upper.high && lower.low && lower.low.digits > 0n ? divide(upper.high, lower.low) : undefined;
  return { ...(low && { low }), ...(high && { high }) };
}

const RATIO_PLACES = 12;

function divide(upper: Decimal, lower: Decimal): Decimal {
  return trimPlaces(divideHalfEven(upper, lower, RATIO_PLACES), 1);
}
