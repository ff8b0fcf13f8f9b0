import { HEAT_NOT_STATED, normaliseHeatNumber } from "../../certificate/heat-number.js";
import { parseDecimal } from "../../quantity/decimal.js";
import type { Measure } from "../../quantity/measure.js";
import { isQuantity } from "../../quantity/quantity.js";
import { isUnit } from "../../quantity/unit.js";
import type { Report, ReportHeat, ReportReading } from "../report.js";
import type { ComparableHeat, ComparableReading } from "./comparable-heat.js";

/** A stored report, and the heats of it that are wanted: all of them where none is named. */
export interface StoredHeats {
  readonly report: Report;
  readonly heats: readonly ReportHeat[];
}

/**
 * Heats of stored reports, joined where the mill's certificate and the laboratory's record were handed in apart. A document that
 * was handed in twice counts once.
 */
export function comparableStoredHeats(stored: readonly StoredHeats[]): ComparableHeat[] {
  const joined = new Map<string, StoredHeat>();
  for (const [position, { report, heats }] of stored.entries()) {
    for (const { heat, grades, product, readings } of heats) {
      // A stand-in for a heat that nobody named is the heat of no other document.
      const key = heat.startsWith(HEAT_NOT_STATED) ? `${position} ${heat}` : normaliseHeatNumber(heat);
      const known = joined.get(key) ?? newStoredHeat(heat);
      for (const { name } of grades) known.grades.add(name);
      if (product?.condition !== undefined) known.conditions.add(product.condition);
      for (const reading of readings) {
        const comparable = comparableReading(reading);
        if (comparable) known.readings.set(originOf(reading, report), comparable);
      }
      joined.set(key, known);
    }
  }
  return [...joined.values()].map(({ heat, grades, conditions, readings }) => ({
    heat,
    grades: [...grades],
    conditions: [...conditions],
    readings: [...readings.values()],
  }));
}

interface StoredHeat {
  readonly heat: string;
  readonly grades: Set<string>;
  readonly conditions: Set<string>;
  readonly readings: Map<string, ComparableReading>;
}

function newStoredHeat(heat: string): StoredHeat {
  return { heat, grades: new Set(), conditions: new Set(), readings: new Map() };
}

/** The value as the report stores it, digit for digit; undefined for a quantity or unit that is not known any more. */
export function comparableReading(reading: ReportReading): ComparableReading | undefined {
  const { quantity, unit, confidence, bound, zone, temperature, statistic } = reading;
  const value = parseDecimal(reading.value);
  if (!value || !isQuantity(quantity) || !isUnit(unit)) return undefined;
  const measure = temperature === undefined ? undefined : storedMeasure(temperature);
  return {
    quantity,
    value,
    unit,
    confidence,
    ...(isBound(bound) && { bound }),
    ...(zone && { zone }),
    ...(measure && { temperature: measure }),
    ...(isStatistic(statistic) && { statistic }),
  };
}

/** "-196 °C", as `formatMeasure` writes it. */
function storedMeasure(text: string): Measure | undefined {
  const [number = "", unit = ""] = text.split(" ");
  const value = parseDecimal(number);
  return value && isUnit(unit) ? { value, unit } : undefined;
}

/** One cell of one document, and what was read there. */
function originOf({ quantity, evidence: { document, ...place }, value }: ReportReading, { documents }: Report): string {
  return [documents[document]?.sha256, JSON.stringify(place), quantity, value].join(" ");
}

function isBound(text: string | undefined): text is NonNullable<ComparableReading["bound"]> {
  return text !== undefined && ["<", "<=", ">", ">="].includes(text);
}

function isStatistic(text: string | undefined): text is NonNullable<ComparableReading["statistic"]> {
  return text === "single" || text === "average";
}
