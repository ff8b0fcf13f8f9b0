import type { Analysis } from "../certificate/certificate.js";
import type { BoundFrom, Limit, ToleranceTable } from "../grades/grade.js";
import { add, type Decimal, decimal, multiply, subtract } from "../quantity/decimal.js";
import { type Interval, intervalOf, isExact } from "../quantity/interval.js";
import type { Quantity } from "../quantity/quantity.js";
import { convert } from "../quantity/unit.js";
import { type AppliedLimit, isEmpty, printedBounds } from "./applied-limit.js";
import type { Candidate } from "./conclude.js";
import { isInRange } from "./conditions.js";
import { analysisOf, type HeatEvidence } from "./heat-evidence.js";
import type { Bounds } from "./hold.js";
import type { Note, NumberedReading } from "./judgement.js";
import { isVerified } from "./known.js";

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
  const found =
    limit.sumOf === undefined ? single(limit.quantity, evidence, analysis) : summed(limit.sumOf, evidence, analysis);
  const bounds = boundsFor(limit, evidence, analysis);
  const missing = [...found.missing, ...bounds.missing];
  if (bounds.bounds === undefined) return { candidates: [], missing };

  const tolerance =
    analysis === "product" && limit.analysis === "heat" ? widened(bounds.bounds, limit, applied) : undefined;
  const notes: Note[] = tolerance ? [{ code: "product-analysis", tolerance: tolerance.allowance }] : [];
  return {
    missing,
    candidates: found.values.map(({ readings, value }) => ({
      readings: [...readings, ...bounds.readings.filter((reading) => !readings.includes(reading))],
      value,
      unit: "%",
      bounds: tolerance?.bounds ?? bounds.bounds!,
      ...(bounds.lenientBounds && { lenientBounds: bounds.lenientBounds }),
      ...(tolerance && { tolerance }),
      notes: [...notes, ...unstatedAnalysis(readings)],
    })),
  };
}

interface Value {
  readonly readings: readonly NumberedReading[];
  readonly value: Interval;
}

function single(
  quantity: Quantity,
  evidence: HeatEvidence,
  analysis: Analysis,
): { values: Value[]; missing: string[] } {
  const values = readingsOf(quantity, evidence, analysis).flatMap((reading) => {
    const percent = convert(reading.value, reading.unit, "%");
    return percent ? [{ readings: [reading], value: intervalOf(percent, reading.bound) }] : [];
  });
  return { values, missing: values.length === 0 ? [quantity] : [] };
}

/** A missing element leaves the sum open upwards: it may still decide a maximum that the others already exceed. */
function summed(
  elements: readonly string[],
  evidence: HeatEvidence,
  analysis: Analysis,
): { values: Value[]; missing: string[] } {
  const parts = elements.map((element) => ({
    element,
    found: single(element as Quantity, evidence, analysis).values[0],
  }));
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

interface FoundBounds {
  /** Elements that a computed bound needs and the analysis lacks; there are no bounds then. */
  readonly missing: readonly string[];
  readonly readings: readonly NumberedReading[];
  readonly bounds?: Bounds;
  readonly lenientBounds?: Bounds;
}

function boundsFor(limit: Limit, evidence: HeatEvidence, analysis: Analysis): FoundBounds {
  const printed = printedBounds(limit, "si");
  const min = limit.minFrom && computedBound(limit.minFrom, evidence, analysis);
  const max = limit.maxFrom && computedBound(limit.maxFrom, evidence, analysis);
  const traded = limit.tradeOff && printed.max ? tradedMaximum(limit, printed.max, evidence, analysis) : undefined;
  const missing = [...(min?.missing ?? []), ...(max?.missing ?? [])];
  const readings = [...(min?.readings ?? []), ...(max?.readings ?? []), ...(traded?.readings ?? [])];
  if (missing.length > 0) return { missing, readings };

  // Passing against the demanding end of a computed bound passes any; outside the lenient end is outside any.
  const boundsAt = (minEnd: "low" | "high", maxEnd: "low" | "high"): Bounds => {
    const lower = min?.value[minEnd] ?? printed.min;
    const upper = traded?.maximum ?? max?.value[maxEnd] ?? printed.max;
    return { ...(lower && { min: lower }), ...(upper && { max: upper }) };
  };
  const isComputed = min !== undefined || max !== undefined;
  const lenient = isComputed ? boundsAt("low", "high") : undefined;
  return { missing, readings, bounds: boundsAt("high", "low"), ...(lenient && { lenientBounds: lenient }) };
}

function computedBound(from: BoundFrom, evidence: HeatEvidence, analysis: Analysis) {
  const operands = summed(from.of, evidence, analysis);
  const sum = operands.values[0];
  if (operands.missing.length > 0 || sum?.value.low === undefined || sum.value.high === undefined) {
    const missing = operands.missing.length > 0 ? operands.missing : from.of;
    return { missing, readings: sum?.readings ?? [], value: {} as Interval };
  }
  const scale = (end: Decimal) => add(multiply(end, decimal(from.times)), decimal(from.plus ?? "0"));
  return { missing: [], readings: sum.readings, value: { low: scale(sum.value.low), high: scale(sum.value.high) } };
}

/** Each whole step of carbon (say) below its maximum raises this maximum. Without the other element there is no trade. */
function tradedMaximum(limit: Limit, printed: Decimal, evidence: HeatEvidence, analysis: Analysis) {
  const trade = limit.tradeOff!;
  const other = single(trade.element as Quantity, evidence, analysis).values[0];
  if (!other || !isExact(other.value)) return undefined;
  const below = subtract(decimal(trade.below), other.value.low);
  if (below.digits <= 0n) return undefined;
  const step = decimal(trade.step);
  const places = Math.max(below.places, step.places);
  const steps =
    (below.digits * 10n ** BigInt(places - below.places)) / (step.digits * 10n ** BigInt(places - step.places));
  const raised = add(printed, multiply(decimal(trade.raises), { digits: steps, places: 0 }));
  const ceiling = decimal(trade.ceiling);
  const difference = subtract(ceiling, raised);
  return { maximum: difference.digits < 0n ? ceiling : raised, readings: other.readings };
}

function readingsOf(quantity: Quantity, evidence: HeatEvidence, analysis: Analysis): NumberedReading[] {
  return evidence.readings.filter(
    (reading) =>
      reading.quantity === quantity && analysisOf(reading) === analysis && (reading.zone ?? "base") === "base",
  );
}

function unstatedAnalysis(readings: readonly NumberedReading[]): Note[] {
  return readings.some((reading) => reading.analysis === undefined) ? [{ code: "analysis-not-stated" }] : [];
}

function widened(bounds: Bounds, limit: Limit, applied: AppliedLimit) {
  if (isEmpty(bounds) || limit.sumOf !== undefined) return undefined;
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
