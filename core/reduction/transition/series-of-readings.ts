import type { Reading, Zone } from "../../certificate/certificate.js";
import { toNumber } from "../../quantity/decimal.js";
import { measureIn } from "../../quantity/measure.js";
import { convert, type Unit } from "../../quantity/unit.js";
import type { TransitionPoint } from "./fit-transition.js";
import type { TransitionSeries } from "./reduce-transition.js";

export interface ZoneSeries {
  readonly zone: Zone | undefined;
  readonly series: TransitionSeries;
}

/** The impact singles of one heat as transition series, one a zone. Averages, bounds and pieces without a temperature stay out. */
export function seriesOfReadings(readings: readonly Reading[]): ZoneSeries[] {
  const zones = [...new Set(readings.filter(({ quantity }) => quantity === "KV").map(({ zone }) => zone))];
  return zones.map((zone) => {
    const of = (quantity: "KV" | "LE" | "SFA", unit: Unit) =>
      readings.flatMap((reading) =>
        reading.quantity === quantity && reading.zone === zone ? pointOf(reading, unit) : [],
      );
    const [expansionMm, shearPercent] = [of("LE", "mm"), of("SFA", "%")];
    return {
      zone,
      series: {
        energyJ: of("KV", "J"),
        ...(expansionMm.length > 0 && { expansionMm }),
        ...(shearPercent.length > 0 && { shearPercent }),
      },
    };
  });
}

function pointOf(reading: Reading, unit: Unit): TransitionPoint[] {
  if (reading.statistic === "average" || reading.bound !== undefined || !reading.temperature) return [];
  const celsius = measureIn(reading.temperature, "°C");
  const value = convert(reading.value, reading.unit, unit);
  return celsius && value ? [{ temperatureC: toNumber(celsius), value: toNumber(value) }] : [];
}
