import type { NumberedReading } from "../../certificate/certificate.js";
import type { Printed } from "./printed.js";

/**
 * How many values of a test, not all alike, must agree for a copied line (common practice, no source). Two agree by chance:
 * of a hundred heats of one plate mill some share Rm and A50.
 */
const TELLING_VALUES = 3;

const TENSILE = ["Rm", "Rp0.2", "Rp1.0", "ReH", "Yield", "A", "A50", "A80", "Elongation", "Z"];
const IMPACT = ["KV", "KCV", "LE"];

/** Tests of enough different values, keyed by everything that is printed of them. */
export function printedTests(readings: readonly NumberedReading[]): readonly Printed[] {
  const tests = new Map<string, NumberedReading[]>();
  for (const reading of readings) {
    const isImpact = IMPACT.includes(reading.quantity);
    if ((!isImpact && !TENSILE.includes(reading.quantity)) || reading.statistic === "average") continue;
    const what = isImpact ? reading.quantity : "tensile";
    const key = `${reading.evidence.document}|${what}|${reading.test ?? ""}|${reading.zone ?? ""}`;
    const test = tests.get(key);
    if (test) test.push(reading);
    else tests.set(key, [reading]);
  }
  return [...tests.values()]
    .filter((test) => new Set(test.map(({ printed }) => printed)).size >= TELLING_VALUES)
    .map((test) => [test.map(describe).sort().join("|"), test]);
}

function describe({ quantity, printed, unit, zone }: NumberedReading): string {
  return `${quantity} ${printed} ${unit} ${zone ?? ""}`;
}
