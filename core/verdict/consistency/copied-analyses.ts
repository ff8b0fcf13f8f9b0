import type { NumberedReading } from "../../certificate/certificate.js";
import { formatDecimal } from "../../quantity/decimal.js";
import { isElement } from "../../quantity/quantity.js";
import { analysisOf } from "../heat-evidence.js";
import type { Printed } from "./printed.js";

/**
 * How many elements with two significant digits or more must be printed alike for a copied row. Elements of one digit (S 0.002,
 * V 0.01) agree by chance too often to count, though they must agree as well. Common practice, no source; the test draws a
 * thousand heats of one mill, of which none agree in this many and several in four.
 */
const TELLING_ELEMENTS = 6;

/** Heat analyses of base metal with enough telling elements, keyed by every element that is printed. */
export function printedAnalyses(readings: readonly NumberedReading[]): readonly Printed[] {
  const analyses = new Map<string, NumberedReading[]>();
  for (const reading of readings) {
    const isOwn = isElement(reading.quantity) && (reading.zone ?? "base") === "base" && analysisOf(reading) === "heat";
    if (!isOwn) continue;
    const key = `${reading.evidence.document}|${reading.test ?? ""}`;
    const analysis = analyses.get(key);
    if (analysis) analysis.push(reading);
    else analyses.set(key, [reading]);
  }
  return [...analyses.values()]
    .filter((analysis) => new Set(analysis.filter(isTelling).map(({ quantity }) => quantity)).size >= TELLING_ELEMENTS)
    .map((analysis) => [analysis.map(describe).sort().join("|"), analysis]);
}

function isTelling({ value, bound }: NumberedReading): boolean {
  return bound === undefined && value.digits >= 10n;
}

function describe({ quantity, value, unit, bound }: NumberedReading): string {
  return `${quantity} ${bound ?? ""}${formatDecimal(value)} ${unit}`;
}
