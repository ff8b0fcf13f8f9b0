import { describe, expect, it } from "vitest";
import { decimal } from "../../../core/quantity/decimal.js";
import { formatMeasure, measureIn } from "../../../core/quantity/measure.js";

describe("a measure", () => {
  it.each([
    ["-196", "°C", "-196 °C"],
    ["12.0", "mm", "12.0 mm"],
    ["0.42", "1", "0.42"], // a plain number has no unit to print
  ] as const)("%s in %s is printed %s", (text, unit, printed) => {
    expect(formatMeasure({ value: decimal(text), unit })).toBe(printed);
  });

  it("converts inside its dimension only", () => {
    const thickness = { value: decimal("1"), unit: "in" } as const;
    expect(measureIn(thickness, "mm")).toMatchObject({ digits: 254n * 10n ** 11n, places: 12 });
    expect(measureIn(thickness, "MPa")).toBeUndefined();
  });
});
