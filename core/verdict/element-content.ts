import type { Analysis, NumberedReading, Zone } from "../certificate/certificate.js";
import { compare, type Decimal } from "../quantity/decimal.js";
import { type Interval, intervalOf } from "../quantity/interval.js";
import type { Quantity } from "../quantity/quantity.js";
import { roundHalfEven } from "../quantity/round.js";
import { convert, type Unit } from "../quantity/unit.js";
import { select } from "./collect.js";
import { zoneMatches } from "./conditions.js";
import { analysisOf, type HeatEvidence } from "./heat-evidence.js";

/** What one analysis says of an element, from everything that was read of it. */
export interface ElementContent {
  /** From the lowest to the highest determination. */
  readonly value: Interval;
  readonly readings: readonly NumberedReading[];
}

/** Which analysis of which zone, and the unit to have it in. */
export interface AnalysisWanted {
  readonly analysis: Analysis;
  /** Absent: base metal. */
  readonly zone?: Zone | undefined;
  readonly unit: Unit;
}

export function readingsOf(
  quantity: Quantity,
  readings: HeatEvidence["readings"],
  { analysis, zone }: Pick<AnalysisWanted, "analysis" | "zone">,
): readonly NumberedReading[] {
  return select(readings, (reading) => isReadingOf(reading, quantity, analysis, zone));
}

export function isReadingOf(
  reading: NumberedReading,
  quantity: Quantity,
  analysis: Analysis,
  zone: Zone | undefined,
): boolean {
  return reading.quantity === quantity && analysisOf(reading) === analysis && zoneMatches(zone, reading.zone);
}

/**
 * One melt has one heat analysis: of prints that agree the finest counts, and those that do not agree (which is reported as a
 * contradiction) span a range. Product analyses are of different pieces, so all of them span one. The order of rows is no matter.
 */
export function contentOf(
  quantity: Quantity,
  readings: HeatEvidence["readings"],
  wanted: AnalysisWanted,
): ElementContent | undefined {
  const found = readingsOf(quantity, readings, wanted).flatMap((reading) => {
    const value = convert(reading.value, reading.unit, wanted.unit);
    return value ? [{ reading, value, known: intervalOf(value, reading.bound) }] : [];
  });
  const counted =
    wanted.analysis === "heat"
      ? found.filter((one, index) => !found.some((other, at) => at !== index && saysMore(other, at, one, index)))
      : found;
  if (counted.length === 0) return undefined;
  return { value: spanOf(counted.map(({ known }) => known)), readings: counted.map(({ reading }) => reading) };
}

interface Found {
  readonly value: Decimal;
  readonly known: Interval;
}

/** Whether `left` makes `right` superfluous: a finer print of the same, a value where the other is only a bound, or its repetition. */
function saysMore(left: Found, leftAt: number, right: Found, rightAt: number): boolean {
  if (isBound(left)) return isBound(right) && leftAt < rightAt && isRepetition(left, right);
  if (isBound(right)) return isWithin(left.value, right.known);
  if (left.value.places === right.value.places) return leftAt < rightAt && compare(left.value, right.value) === 0;
  return (
    left.value.places > right.value.places && compare(roundHalfEven(left.value, right.value.places), right.value) === 0
  );
}

function isBound({ known }: Found): boolean {
  return known.low === undefined || known.high === undefined;
}

function isRepetition(left: Found, right: Found): boolean {
  return (left.known.low === undefined) === (right.known.low === undefined) && compare(left.value, right.value) === 0;
}

function isWithin(value: Decimal, { low, high }: Interval): boolean {
  return (low === undefined || compare(low, value) <= 0) && (high === undefined || compare(value, high) <= 0);
}

function spanOf(intervals: readonly Interval[]): Interval {
  const lows = intervals.map(({ low }) => low);
  const highs = intervals.map(({ high }) => high);
  const low = lows.every((end) => end !== undefined) ? lows.reduce(lower) : undefined;
  const high = highs.every((end) => end !== undefined) ? highs.reduce(higher) : undefined;
  return { ...(low && { low }), ...(high && { high }) };
}

function lower(left: Decimal, right: Decimal): Decimal {
  return compare(left, right) <= 0 ? left : right;
}

function higher(left: Decimal, right: Decimal): Decimal {
  return compare(left, right) >= 0 ? left : right;
}
