import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { NumberedReading } from "../../../../core/certificate/certificate.js";
import type { EarlierReading } from "../../../../core/certificate/earlier-reading.js";
import type { Quantity } from "../../../../core/quantity/quantity.js";
import { earlierContradictions } from "../../../../core/verdict/consistency/earlier-heats.js";
import { reading } from "../../../support/heat.js";

const earlier = (quantity: string, value: string, issuer?: string): EarlierReading => ({
  quantity,
  value,
  printed: value,
  submission: "s-1",
  document: { name: "ns-88213.xlsx", sha256: "ab".repeat(32), ...(issuer !== undefined && { issuer }) },
  place: { sheet: "Analysis", cell: "D7" },
});
const here = (quantity: Quantity, text: string, more: Partial<NumberedReading> = {}): NumberedReading => ({
  ...reading(quantity, text),
  id: 1,
  ...more,
});
const nobody = () => undefined;

// Cast analyses; a person writes 0.03 for 0.030, and rounds to what the form has room for.
const CASES: readonly (readonly [here: NumberedReading, before: EarlierReading, contradicts: boolean])[] = [
  [here("C", "0.021"), earlier("C", "0.021"), false],
  [here("C", "0.021"), earlier("C", "0.022"), true],
  [here("C", "0.0214"), earlier("C", "0.021"), false],
  [here("C", "0.0216"), earlier("C", "0.021"), true],
  [here("N", "620 ppm"), earlier("N", "0.062"), false],
  [here("N", "630 ppm"), earlier("N", "0.062"), true],
  [here("C", "0.034"), earlier("Mn", "0.021"), false],
  // Neither a bound nor another analysis nor the weld's chemistry is the cast analysis, and a doubtful reading is no witness.
  [here("C", "<0.010"), earlier("C", "0.021"), false],
  [here("C", "0.034", { analysis: "product" }), earlier("C", "0.021"), false],
  [here("C", "0.034", { zone: "weld" }), earlier("C", "0.021"), false],
  [here("C", "0.034", { confidence: 0.84 }), earlier("C", "0.021"), false],
  [here("C", "0.034", { confidence: 0.85 }), earlier("C", "0.021"), true],
  [here("C", "0.034 MPa"), earlier("C", "0.021"), false],
  // Each piece has its own strength.
  [here("Rm", "604"), earlier("Rm", "530"), false],
];

test.each(
  CASES.map(
    (one) => [`${one[0].quantity} ${one[0].printed} against ${one[1].quantity} ${one[1].value}`, ...one] as const,
  ),
)("%s", (_name, now, before, contradicts) => {
  expect(earlierContradictions([now], [before], nobody).length > 0).toBe(contradicts);
});

describe("the mill", () => {
  test.each<[now: string | undefined, before: string | undefined, compared: boolean]>([
    [undefined, undefined, true],
    ["Norrvik Stål AB", undefined, true],
    [undefined, "Norrvik Stål AB", true],
    ["Norrvik Stål AB", "NORRVIK STAL", true],
    ["NORRVIK STAL", "Norrvik Stål AB", true],
    ["Stål AB", "Norrvik Stål AB", false],
    ["Norrvik Stål AB", "Stål AB", false],
    ["Norrvik Stål AB", "Brackwater Metals", false],
  ])("%s against %s", (now, before, compared) => {
    const found = earlierContradictions([here("C", "0.034")], [earlier("C", "0.021", before)], () => now);
    expect(found.length > 0).toBe(compared);
  });
});

test("one finding shows every value that differs, both ways, and where each was read", () => {
  const readings = [here("C", "0.034"), here("Mn", "1.62", { id: 2 }), here("P", "0.040", { id: 3 })];
  const before = [earlier("C", "0.021"), earlier("C", "0.020"), earlier("Mn", "1.62"), earlier("P", "0.031")];
  expect(earlierContradictions(readings, before, nobody)).toMatchObject([
    {
      outcome: "undetermined",
      reason: "contradiction",
      source: { clause: "one melt has one heat analysis" },
      readings: [{ id: 1 }, { id: 3 }],
      earlier: [before[0], before[3]],
      says: {
        what:
          "the heat was handed in before with another analysis: " +
          "C 0.034 % here and 0.021 % in ns-88213.xlsx, sheet Analysis, cell D7 (submission s-1); " +
          "P 0.040 % here and 0.031 % in ns-88213.xlsx, sheet Analysis, cell D7 (submission s-1)",
      },
    },
  ]);
});

test("an element that is printed twice is named once", () => {
  const readings = [here("C", "0.034"), here("C", "0.034", { id: 2 })];
  expect(earlierContradictions(readings, [earlier("C", "0.021")], nobody)).toMatchObject([{ readings: [{ id: 1 }] }]);
});

test("it can only lower: whatever was handed in before, nothing but undetermined comes of it", () => {
  const value = fc.integer({ min: 0, max: 9_999 }).map((digits) => (digits / 10_000).toFixed(4));
  const property = fc.property(fc.array(value), fc.array(value), (now, before) => {
    const found = earlierContradictions(
      now.map((text, index) => here("C", text, { id: index + 1 })),
      before.map((text) => earlier("C", text)),
      nobody,
    );
    expect(found.every(({ outcome }) => outcome === "undetermined")).toBe(true);
    expect(found.length).toBeLessThanOrEqual(1);
  });
  fc.assert(property);
});
