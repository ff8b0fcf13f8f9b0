import type { Judgement, NumberedReading } from "../judgement.js";
import { contradiction } from "./contradiction.js";

interface NamedHeat {
  readonly heat: string;
  readonly readings: readonly NumberedReading[];
}

/**
 * Test results of two melts do not agree to the last digit in every value; three equal ones in a row are more often a copied line
 * than chance. By heat: what is said of it.
 */
export function acrossHeatsContradictions(heats: readonly NamedHeat[]): ReadonlyMap<string, readonly Judgement[]> {
  const groups = new Map<string, { heat: string; readings: NumberedReading[] }[]>();
  for (const { heat, readings } of heats) {
    for (const [key, test] of testsOf(readings)) {
      groups.set(key, [...(groups.get(key) ?? []), { heat, readings: test }]);
    }
  }
  const said = new Map<string, Judgement[]>();
  for (const same of groups.values()) {
    const names = [...new Set(same.map(({ heat }) => heat))];
    if (names.length < 2) continue;
    for (const { heat, readings } of same) {
      const others = names.filter((name) => name !== heat).join(", ");
      const values = readings.map((reading) => `${reading.quantity} ${reading.printed}`).join(", ");
      const judgement = contradiction(`the results ${values} are the same as those of heat ${others}`, readings);
      said.set(heat, [...(said.get(heat) ?? []), judgement]);
    }
  }
  return said;
}

const MEASURED = ["Rm", "Rp0.2", "Rp1.0", "ReH", "Yield", "A", "A50", "A80", "Elongation", "Z", "KV", "KCV", "LE"];

/** Tests of three or more values that are not all alike, keyed by everything that is printed. */
function testsOf(readings: readonly NumberedReading[]): readonly (readonly [string, NumberedReading[]])[] {
  const tests = new Map<string, NumberedReading[]>();
  for (const reading of readings) {
    if (!MEASURED.includes(reading.quantity) || reading.statistic === "average") continue;
    const impact = ["KV", "KCV", "LE"].includes(reading.quantity);
    const key = `${reading.evidence.document}|${impact ? reading.quantity : "tensile"}|${reading.test ?? ""}|${reading.zone ?? ""}`;
    tests.set(key, [...(tests.get(key) ?? []), reading]);
  }
  return [...tests.values()]
    .filter((test) => new Set(test.map((reading) => reading.printed)).size >= 3)
    .map((test) => [
      test
        .map((reading) => `${reading.quantity} ${reading.printed} ${reading.unit} ${reading.zone ?? ""}`)
        .sort()
        .join("|"),
      test,
    ]);
}
