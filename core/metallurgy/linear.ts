import { add, compare, type Decimal, decimal, formatDecimal, multiply } from "../quantity/decimal.js";
import { integer, trimPlaces } from "../quantity/fraction.js";
import type { Interval } from "../quantity/interval.js";
import { divideHalfEven } from "../quantity/round.js";
import { type Chemistry, type Content, contentInterval, type Ingredient } from "./chemistry.js";
import type { Formula, FormulaResult, ValidityRange } from "./formula.js";

/** Factors by ingredient, as printed: "13.7", "-9.2", "1/6". The key "1" is the constant. */
export type Terms = Readonly<Partial<Record<Ingredient | "1", string>>>;

export type LinearDefinition = Omit<Formula, "compute" | "needs" | "aliases" | "validity"> &
  Partial<Pick<Formula, "aliases" | "validity">> & { readonly terms: Terms };

/** A formula that is a weighted sum of contents, computed exactly and divided once. */
export function linearFormula(definition: LinearDefinition): Formula {
  const { terms, ...facts } = definition;
  const sum = parseTerms(terms);
  const needs = sum.terms.map((term) => term.of).filter((of) => !facts.optional.includes(of));
  const validity = facts.validity ?? [];
  return {
    aliases: [],
    ...facts,
    needs,
    validity,
    compute: (chemistry) => computeLinear(sum, needs, validity, facts.reportPlaces, chemistry),
  };
}

function computeLinear(
  sum: WeightedSum,
  needs: readonly Ingredient[],
  validity: readonly ValidityRange[],
  places: number,
  chemistry: Chemistry,
): FormulaResult {
  const missing = missingFrom(chemistry, needs);
  const { low, high } = sumInterval(sum, chemistry, places);
  if (missing.length > 0) return { kind: "missing", missing, ...(low && { low }), ...(high && { high }) };
  if (!low && !high) return { kind: "outside-range", because: describeOpen(sum, chemistry) };
  return {
    kind: "value",
    value: sumAsStated(sum, chemistry, places),
    ...(low && { low }),
    ...(high && { high }),
    ...gaps(sum, chemistry),
    cautions: outsideValidity(validity, chemistry),
  };
}

function describeOpen(sum: WeightedSum, chemistry: Chemistry): string {
  const { notReported, bounded } = gaps(sum, chemistry);
  return `neither end is known: ${[...notReported, ...bounded].join(", ")} not reported, or only as a bound`;
}

export function missingFrom(chemistry: Chemistry, needs: readonly Ingredient[]): Ingredient[] {
  return needs.filter((ingredient) => !chemistry.has(ingredient));
}

/** Which of the sum's ingredients are not reported, and which only as a bound. */
export function gaps(sum: WeightedSum, chemistry: Chemistry) {
  const ingredients = sum.terms.map((term) => term.of);
  return {
    notReported: missingFrom(chemistry, ingredients),
    bounded: ingredients.filter((ingredient) => chemistry.get(ingredient)?.bound !== undefined),
  };
}

/** A sum over one common denominator, so that sixths and fifteenths stay exact until the single division at the end. */
export interface WeightedSum {
  readonly terms: readonly { readonly of: Ingredient; readonly factor: Decimal }[];
  readonly constant: Decimal;
  readonly denominator: bigint;
}

export function parseTerms(terms: Terms): WeightedSum {
  const parsed = Object.entries(terms).map(([of, text]) => ({ of: of as Ingredient | "1", ...parseFactor(text) }));
  const denominator = parsed.reduce((common, { over }) => leastCommonMultiple(common, over), 1n);
  const scaled = parsed.map(({ of, times, over }) => ({ of, factor: multiply(times, integer(denominator / over)) }));
  return {
    terms: scaled.flatMap(({ of, factor }) => (of === "1" ? [] : [{ of, factor }])),
    constant: scaled.find(({ of }) => of === "1")?.factor ?? integer(0),
    denominator,
  };
}

/** The sum with every content at its number and those not reported left out. */
export function sumAsStated(sum: WeightedSum, chemistry: Chemistry, places: number): Decimal {
  const total = sum.terms.reduce((running, { of, factor }) => {
    const content = chemistry.get(of);
    return content ? add(running, multiply(factor, content.value)) : running;
  }, sum.constant);
  return divideOnce(total, sum.denominator, places);
}

export function sumInterval(sum: WeightedSum, chemistry: Chemistry, places: number): Interval {
  const low = sumEnd(sum, chemistry, "low");
  const high = sumEnd(sum, chemistry, "high");
  return {
    ...(low && { low: divideOnce(low, sum.denominator, places) }),
    ...(high && { high: divideOnce(high, sum.denominator, places) }),
  };
}

/** One end of the sum; open as soon as one content that counts towards it is open. */
function sumEnd(sum: WeightedSum, chemistry: Chemistry, end: "low" | "high"): Decimal | undefined {
  const other = end === "low" ? "high" : "low";
  let total = sum.constant;
  for (const { of, factor } of sum.terms) {
    const content = contentInterval(chemistry, of)[factor.digits >= 0n ? end : other];
    if (!content) return undefined;
    total = add(total, multiply(factor, content));
  }
  return total;
}

/** Places kept by a quotient beyond those of its dividend: finer than any limit that it is held to. */
const QUOTIENT_PLACES = 12;

function divideOnce(total: Decimal, denominator: bigint, places: number): Decimal {
  if (denominator === 1n) return trimPlaces(total, places);
  return trimPlaces(divideHalfEven(total, integer(denominator), total.places + QUOTIENT_PLACES), places);
}

function parseFactor(text: string): { times: Decimal; over: bigint } {
  const [times, over] = text.split("/");
  return { times: decimal(times!), over: BigInt(over ?? "1") };
}

function leastCommonMultiple(left: bigint, right: bigint): bigint {
  return (left / greatestCommonDivisor(left, right)) * right;
}

function greatestCommonDivisor(left: bigint, right: bigint): bigint {
  return right === 0n ? left : greatestCommonDivisor(right, left % right);
}

/** One sentence for every reported content outside the range that the formula was made for. */
export function outsideValidity(validity: readonly ValidityRange[], chemistry: Chemistry): string[] {
  return validity.flatMap((range) => {
    const content = chemistry.get(range.of);
    return content && isOutside(range, content) ? [describeOutside(range, content)] : [];
  });
}

function isOutside(range: ValidityRange, { value, bound }: Content): boolean {
  const below = range.from !== undefined && compare(value, decimal(range.from)) < 0;
  // "<0.50" against "up to 0.30" proves nothing.
  const above = range.upTo !== undefined && !bound?.startsWith("<") && compare(value, decimal(range.upTo)) > 0;
  return below || above;
}

function describeOutside({ of, from, upTo, known }: ValidityRange, { value }: Content): string {
  const range = from === undefined ? `up to ${upTo}` : upTo === undefined ? `from ${from}` : `${from} to ${upTo}`;
  const unit = of === "G" ? "" : " %";
  const memory = known === "memory" ? " (range from memory)" : "";
  return `${of} ${formatDecimal(value)}${unit} is outside the range of the formula, ${range}${unit}${memory}`;
}
