import { describe, expect, it } from "vitest";
import { decimal } from "../../../../core/quantity/decimal.js";
import { shownDistance, shownValue } from "../../../../core/report/wording/shown-value.js";

describe("computed values in a sentence", () => {
  it.each<[value: string, min: string | undefined, max: string | undefined, text: string]>([
    ["52.0000", "60", undefined, "52.00"],
    ["55.724120", "60", undefined, "55.72"],
    ["41.0", "45", undefined, "41.0"],
    ["0.4753333", undefined, "0.45", "0.4753"],
    ["0.0145669", "0.015", undefined, "0.01457"],
    ["17.44444", "17.5", "19.5", "17.444"],
    // 60.00 would not be below 60, and 20.00 not above 20.
    ["59.996", "60", undefined, "59.996"],
    ["59.99999666", "60", undefined, "59.999997"],
    ["20.004", "10", "20", "20.004"],
    ["0.33333333", undefined, undefined, "0.333333"],
    ["0.00000033333333", undefined, undefined, "0.000000333333"],
    ["-12345678.12345", undefined, undefined, "-12345678"],
    ["12.340000", undefined, undefined, "12.34"],
    ["12.3400", undefined, undefined, "12.3400"],
  ])("%s against %s to %s is shown as %s", (value, min, max, text) => {
    const bounds = { ...(min !== undefined && { min: decimal(min) }), ...(max !== undefined && { max: decimal(max) }) };
    expect(shownValue(decimal(value), bounds)).toBe(text);
  });

  it.each([
    ["8.0000", "60", "8.00"],
    ["0.000433071", "0.015", "0.00043"],
    ["0.004", "60", "0.004"],
    ["0.00000010", "60", "0.0000001"],
    ["0.000", "60", "0.00"],
  ])("a distance of %s to %s is shown as %s", (distance, min, text) =>
    expect(shownDistance(decimal(distance), { min: decimal(min) })).toBe(text),
  );
});
