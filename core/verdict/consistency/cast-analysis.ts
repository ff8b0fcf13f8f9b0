import { CONFIDENCE_THRESHOLD, type NumberedReading } from "../../certificate/certificate.js";
import { compare, type Decimal, formatDecimal } from "../../quantity/decimal.js";
import { isElement } from "../../quantity/quantity.js";
import { roundHalfEven } from "../../quantity/round.js";
import { convert } from "../../quantity/unit.js";
import { analysisOf } from "../heat-evidence.js";

/** The heat's own analysis, which is one and the same wherever the heat turns up: exact values of the base metal. */
export function castAnalysis(readings: readonly NumberedReading[]): readonly NumberedReading[] {
  return readings.filter(
    (reading) =>
      isElement(reading.quantity) &&
      (reading.zone ?? "base") === "base" &&
      analysisOf(reading) === "heat" &&
      reading.bound === undefined,
  );
}

/** What was read too unsurely to decide cannot speak against another document either. */
export function isSure({ confidence }: { readonly confidence: number }): boolean {
  return confidence >= CONFIDENCE_THRESHOLD;
}

/** Values that agree once the finer print is rounded to the coarser are the same. */
export function isSameValue(left: Decimal, right: Decimal): boolean {
  const places = Math.min(left.places, right.places);
  return compare(roundHalfEven(left, places), roundHalfEven(right, places)) === 0;
}

export function percent(reading: NumberedReading): Decimal | undefined {
  return convert(reading.value, reading.unit, "%");
}

export function percentText(reading: NumberedReading): string {
  const value = percent(reading);
  return value ? `${formatDecimal(value)} %` : reading.printed;
}
