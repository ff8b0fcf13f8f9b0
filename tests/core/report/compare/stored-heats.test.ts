import { expect, test } from "vitest";
import { formatDecimal } from "../../../../core/quantity/decimal.js";
import { comparableStoredHeats } from "../../../../core/report/compare/stored-heats.js";
import { storedDocument, storedHeat, storedReading, storedReport } from "../../../support/stored-heat.js";

const mill = storedDocument("mill.csv");
const laboratory = storedDocument("laboratory.xlsx");
const strength = storedHeat("H 4471", "304L", [storedReading("Rm", "590.0")]);
const impact = storedHeat("H-4471", "304L", [
  storedReading("KV", "152", { temperature: "-196 °C", zone: "weld", statistic: "single" }),
  storedReading("KV", "152", { temperature: "-196 °C", zone: "weld", statistic: "single" }),
]);

test("the same heat of two submissions is one material, with every digit, unit and condition kept", () => {
  const [heat, ...more] = comparableStoredHeats([
    { report: storedReport([strength], [mill]), heats: [strength] },
    { report: storedReport([impact], [laboratory]), heats: [impact] },
  ]);
  expect(more).toEqual([]);
  expect(heat).toMatchObject({ heat: "H 4471", grades: ["304L"] });
  expect(heat!.readings.map(({ quantity, value, unit }) => `${quantity} ${formatDecimal(value)} ${unit}`)).toEqual([
    "Rm 590.0 MPa",
    "KV 152 J",
    "KV 152 J",
  ]);
  expect(heat!.readings[1]).toMatchObject({ zone: "weld", temperature: { unit: "°C" }, statistic: "single" });
});

test("a document handed in twice counts once", () => {
  const report = storedReport([impact], [laboratory]);
  const [heat] = comparableStoredHeats([
    { report, heats: [impact] },
    { report, heats: [impact] },
  ]);
  expect(heat!.readings).toHaveLength(2);
});

test("heats that nobody named are not taken for one", () => {
  const nameless = storedHeat("heat not stated", "304L", [storedReading("Rm", "590")]);
  const stored = { report: storedReport([nameless], [mill]), heats: [nameless] };
  expect(comparableStoredHeats([stored, stored])).toHaveLength(2);
});

test("what a newer version stored under words that this one does not know is left aside", () => {
  const odd = storedHeat("H1", "304L", [storedReading("KV", "152", { unit: "erg" }), storedReading("novel", "1")]);
  expect(comparableStoredHeats([{ report: storedReport([odd], [mill]), heats: [odd] }])[0]!.readings).toEqual([]);
});

test("the delivery condition of every document that states one is kept", () => {
  const hard = { ...strength, product: { condition: "full hard" } };
  const [heat] = comparableStoredHeats([
    { report: storedReport([hard], [mill]), heats: [hard] },
    { report: storedReport([impact], [laboratory]), heats: [impact] },
  ]);
  expect(heat!.conditions).toEqual(["full hard"]);
});
