import type { Analysis, NumberedReading } from "../certificate/certificate.js";
import type { BoundFrom, Limit, ToleranceTable } from "../grades/grade.js";
import { add, compare, type Decimal, decimal, multiply, subtract } from "../quantity/decimal.js";
import { type Interval, intervalOf } from "../quantity/interval.js";
import type { Quantity } from "../quantity/quantity.js";
import { convert } from "../quantity/unit.js";
import { type AppliedLimit, boundLimit, isEmpty, printedLimit } from "./applied-limit.js";
import { collect } from "./collect.js";
import type { Candidate } from "./conclude.js";
import { isInRange } from "./conditions.js";
import { type AnalysisWanted, contentOf, isReadingOf, readingsOf } from "./element-content.js";
import type { HeatEvidence } from "./heat-evidence.js";
import type { Bounds } from "./hold.js";
import type { BoundLimit, Note } from "./judgement.js";
import { isVerified } from "./known.js";

type TradeOff = NonNullable<Limit["tradeOff"]>;

/** Candidates of one analysis, or the elements that are missing for the bound. */
export type ChemistryCandidates = { readonly candidates: readonly Candidate[]; readonly missing: readonly string[] };

/**
 * What a chemistry limit is held against, in one analysis. Heat analysis takes no tolerance; product analysis takes the
 * standard's, chosen by the specified limit and not by the measured value (ASTM A751; EN 10088-2, product analysis table).
 */
export function chemistryCandidates(
  applied: AppliedLimit,
  evidence: HeatEvidence,
  analysis: Analysis,
): ChemistryCandidates {
  const { limit } = applied;
  const isTolerated = analysis === "product" && limit.analysis === "heat";
  if (isByItself(limit) && !isTolerated) return plainCandidates(applied, evidence, analysis);
  const scope: Scope = {
    readings: evidence.readings,
    wanted: { analysis, zone: limit.when?.zone, unit: limit.unit },
  };
  const found = limit.sumOf === undefined ? single(limit.quantity, scope) : summed(limit.sumOf, scope);
  const bounds = boundsFor(applied, scope);
  const missing = bounds.missing.length === 0 ? found.missing : [...found.missing, ...bounds.missing];
  const bound = bounds.limit;
  if (bound === undefined || found.values.length === 0) return { candidates: NONE, missing };

  const candidates = found.values.map(({ readings, value }) => {
    const notes = unstatedAnalysis(readings);
    const plain = { readings: withOperands(readings, bounds.readings), value, limit: bound, notes };
    return fitted(plain, applied, bounds, isTolerated);
  });
  return { candidates, missing };
}

/** One element held to printed numbers, as most limits are. */
function isByItself({ sumOf, minFrom, maxFrom, tradeOff }: Limit): boolean {
  return sumOf === undefined && minFrom === undefined && maxFrom === undefined && tradeOff === undefined;
}

function plainCandidates(applied: AppliedLimit, evidence: HeatEvidence, analysis: Analysis): ChemistryCandidates {
  const { quantity, unit, when } = applied.limit;
  const limit = printedLimit(applied, "si");
  const candidates = collect(evidence.readings, (reading): Candidate | undefined => {
    if (!isReadingOf(reading, quantity, analysis, when?.zone)) return undefined;
    const value = convert(reading.value, reading.unit, unit);
    const notes = reading.analysis === undefined ? NOT_STATED : NONE;
    return value && { readings: [reading], value: intervalOf(value, reading.bound), limit, notes };
  });
  return { candidates, missing: candidates.length === 0 ? [quantity] : NONE };
}

/** The candidate with what only some limits have: bounds that depend on other elements, a sum, a product-analysis tolerance. */
function fitted(plain: Candidate, applied: AppliedLimit, { lenient }: FoundBounds, isTolerated: boolean): Candidate {
  const { limit } = applied;
  const tolerance = isTolerated ? widened(plain.limit, limit, applied) : undefined;
  const widenedLenient = tolerance && lenient && widened(lenient.bounds, limit, applied);
  const note: Note[] = tolerance ? [{ code: "product-analysis", tolerance: tolerance.allowance }] : [];
  return {
    ...plain,
    ...(lenient && { lenient: widenedLenient ? { ...lenient, bounds: widenedLenient.bounds } : lenient }),
    ...(tolerance && { tolerance, limit: boundLimit(applied, tolerance.bounds, limit.unit) }),
    ...(limit.sumOf && { sum: true as const }),
    notes: [...note, ...plain.notes],
  };
}

function withOperands(
  readings: readonly NumberedReading[],
  operands: readonly NumberedReading[],
): readonly NumberedReading[] {
  if (operands.length === 0) return readings;
  return [...readings, ...operands.filter((reading) => !readings.includes(reading))];
}

/** Where the contents of one limit come from. */
interface Scope {
  readonly readings: HeatEvidence["readings"];
  readonly wanted: AnalysisWanted;
}

interface Value {
  readonly readings: readonly NumberedReading[];
  readonly value: Interval;
}

interface Contents {
  readonly values: readonly Value[];
  readonly missing: readonly string[];
}

/** Every reading of the element is held by itself: the worst of them decides. */
function single(quantity: Quantity, { readings, wanted }: Scope): Contents {
  const values = collect(readingsOf(quantity, readings, wanted), (reading) => {
    const value = convert(reading.value, reading.unit, wanted.unit);
    return value && { readings: [reading], value: intervalOf(value, reading.bound) };
  });
  return { values, missing: values.length === 0 ? [quantity] : NONE };
}

/** A missing element leaves the sum open upwards: it may still decide a maximum that the others already exceed. */
function summed(elements: readonly string[], { readings, wanted }: Scope): Contents {
  const parts = elements.map((element) => ({ element, found: contentOf(element as Quantity, readings, wanted) }));
  const missing = parts.filter((part) => part.found === undefined).map((part) => part.element);
  const present = parts.flatMap((part) => (part.found ? [part.found] : []));
  if (present.length === 0) return { values: [], missing };
  const value = sumOfIntervals(present.map((part) => part.value));
  return {
    values: [
      {
        readings: present.flatMap((part) => part.readings),
        value: missing.length > 0 && value.low !== undefined ? { low: value.low } : value,
      },
    ].filter(({ value: known }) => known.low !== undefined || known.high !== undefined),
    missing,
  };
}

/**
 * Mass fractions are never below zero, which closes the low end of "<0.005" in a sum. That zero keeps the places of the print, for
 * a bound computed from it is rounded to.
 */
function sumOfIntervals(values: readonly Interval[]): Interval {
  const low = values.map((value) => value.low ?? { digits: 0n, places: value.high?.places ?? 0 }).reduce(add);
  const highs = values.map((value) => value.high);
  return highs.every((high) => high !== undefined) ? { low, high: highs.reduce(add) } : { low };
}

const NONE: readonly never[] = [];
const NOT_STATED: readonly Note[] = [{ code: "analysis-not-stated" }];

interface FoundBounds {
  /** Elements that a computed bound needs and the analysis lacks; there are no bounds then. */
  readonly missing: readonly string[];
  readonly readings: readonly NumberedReading[];
  readonly limit?: BoundLimit;
  readonly lenient?: Candidate["lenient"];
}

function boundsFor(applied: AppliedLimit, scope: Scope): FoundBounds {
  const { limit } = applied;
  const printed = printedLimit(applied, "si");
  if (!limit.minFrom && !limit.maxFrom && !limit.tradeOff) return { missing: NONE, readings: NONE, limit: printed };
  const min = limit.minFrom && computedBound(limit.minFrom, scope);
  const max = limit.maxFrom && computedBound(limit.maxFrom, scope);
  const traded = limit.tradeOff && printed.max ? tradedMaximum(limit.tradeOff, printed.max, scope) : undefined;
  const missing = [...(min?.missing ?? []), ...(max?.missing ?? [])];
  const readings = [...(min?.readings ?? []), ...(max?.readings ?? []), ...(traded?.readings ?? [])];
  if (missing.length > 0) return { missing, readings };

  // Passing against the demanding end of a computed bound passes any; outside the lenient end is outside any.
  const boundsAt = (minEnd: "low" | "high", maxEnd: "low" | "high"): Bounds => {
    const lower = min?.value[minEnd] ?? printed.min;
    const upper = traded?.value[maxEnd] ?? max?.value[maxEnd] ?? printed.max;
    return { ...(lower && { min: lower }), ...(upper && { max: upper }) };
  };
  const on = [limit.minFrom?.of ?? [], limit.maxFrom?.of ?? [], limit.tradeOff?.element ?? []].flat();
  const lenient = on.length > 0 ? { bounds: boundsAt("low", "high"), on } : undefined;
  const demanding = boundLimit(applied, boundsAt("high", "low"), limit.unit);
  return { missing, readings, limit: demanding, ...(lenient && { lenient }) };
}

function computedBound(from: BoundFrom, scope: Scope) {
  const operands = summed(from.of, scope);
  const sum = operands.values[0];
  if (operands.missing.length > 0 || sum?.value.low === undefined || sum.value.high === undefined) {
    const missing = operands.missing.length > 0 ? operands.missing : from.of;
    return { missing, readings: sum?.readings ?? [], value: {} as Interval };
  }
  const scale = (end: Decimal) => add(multiply(end, decimal(from.times)), decimal(from.plus ?? "0"));
  return { missing: [], readings: sum.readings, value: { low: scale(sum.value.low), high: scale(sum.value.high) } };
}

/**
 * Each whole step of carbon (say) below its maximum raises this maximum. Where the carbon is not known exactly, the maximum lies
 * between what its highest content gives, or the printed maximum, and what its lowest gives, or the ceiling.
 */
function tradedMaximum(trade: TradeOff, printed: Decimal, { readings, wanted }: Scope) {
  const other = contentOf(trade.element as Quantity, readings, wanted);
  const at = (content: Decimal | undefined, otherwise: Decimal) =>
    content === undefined ? otherwise : raisedMaximum(trade, printed, content);
  return {
    readings: other?.readings ?? [],
    value: { low: at(other?.value.high, printed), high: at(other?.value.low, decimal(trade.ceiling)) },
  };
}

function raisedMaximum(trade: TradeOff, printed: Decimal, content: Decimal): Decimal {
  const below = subtract(decimal(trade.below), content);
  if (below.digits <= 0n) return printed;
  const step = decimal(trade.step);
  const places = Math.max(below.places, step.places);
  const steps =
    (below.digits * 10n ** BigInt(places - below.places)) / (step.digits * 10n ** BigInt(places - step.places));
  const raised = add(printed, multiply(decimal(trade.raises), { digits: steps, places: 0 }));
  const ceiling = decimal(trade.ceiling);
  return compare(ceiling, raised) < 0 ? ceiling : raised;
}

function unstatedAnalysis(readings: readonly NumberedReading[]): readonly Note[] {
  return readings.some((reading) => reading.analysis === undefined) ? NOT_STATED : NONE;
}

function widened(bounds: Bounds, limit: Limit, applied: AppliedLimit) {
  // The tables are in mass %.
  if (isEmpty(bounds) || limit.sumOf !== undefined || limit.unit !== "%") return undefined;
  const under = bounds.min && toleranceRow(applied.tolerances, limit.quantity, bounds.min, "underMin");
  const over = bounds.max && toleranceRow(applied.tolerances, limit.quantity, bounds.max, "overMax");
  const given = [over, under].filter((row) => row !== undefined);
  return {
    bounds: {
      ...(bounds.min && { min: under ? subtract(bounds.min, under.allowance) : bounds.min }),
      ...(bounds.max && { max: over ? add(bounds.max, over.allowance) : bounds.max }),
    },
    untoleranced: bounds,
    // A range is widened by two rows of the table and is known no better than the weaker of them.
    known:
      (given.find(({ known }) => !isVerified(known)) ?? given[0])?.known ?? ({ how: "memory", sources: 0 } as const),
    allowance: given[0]?.allowance ?? decimal("0"),
  };
}

function toleranceRow(
  table: ToleranceTable | undefined,
  element: Quantity,
  limit: Decimal,
  side: "underMin" | "overMax",
) {
  const row = table?.rows.find(
    (candidate) => candidate.element === element && candidate[side] !== undefined && isInRange(limit, candidate.limit),
  );
  return row && { allowance: decimal(row[side]!), known: row.known };
}
