import { describe, expect, it } from "vitest";
import { decimal, formatDecimal } from "../../../core/quantity/decimal.js";
import { divideHalfEven, roundHalfAway, roundHalfEven, roundToMultiple } from "../../../core/quantity/round.js";

describe("rounding", () => {
  // Halves first, both signs: even neighbour against away from zero.
  it.each([
    ["0.0304", 3, "0.030", "0.030"],
    ["0.0305", 3, "0.030", "0.031"],
    ["0.03050001", 3, "0.031", "0.031"],
    ["0.0315", 3, "0.032", "0.032"],
    ["26.5", 0, "26", "27"],
    ["27.5", 0, "28", "28"],
    ["-0.5", 0, "0", "-1"],
    ["-1.5", 0, "-2", "-2"],
    ["-2.5", 0, "-2", "-3"],
    ["-2.4", 0, "-2", "-2"],
    ["-2.6", 0, "-3", "-3"],
    ["0.5", 0, "0", "1"],
    ["0", 0, "0", "0"],
    ["0.030", 3, "0.030", "0.030"],
    ["485", 1, "485.0", "485.0"],
  ])("rounds %s to %i places: half even %s, half away %s", (text, places, even, away) => {
    expect(formatDecimal(roundHalfEven(decimal(text), places))).toBe(even);
    expect(formatDecimal(roundHalfAway(decimal(text), places))).toBe(away);
  });

  it.each([
    ["6025", "50", "6000"],
    ["6075", "50", "6100"],
    ["0.75", "0.5", "1.0"],
    ["1.25", "0.5", "1.0"],
  ])("rounds %s to a multiple of %s: %s", (text, step, expected) => {
    expect(formatDecimal(roundToMultiple(decimal(text), decimal(step)))).toBe(expected);
  });

  it.each(["0", "-50"])("has no multiples of %s to round to", (step) => {
    expect(() => roundToMultiple(decimal("6025"), decimal(step))).toThrow("a rounding step must be above zero");
  });

  it("divides exactly and rounds once", () => {
    expect(formatDecimal(divideHalfEven(decimal("1"), decimal("3"), 4))).toBe("0.3333");
    expect(formatDecimal(divideHalfEven(decimal("-1"), decimal("8"), 2))).toBe("-0.12");
    expect(formatDecimal(divideHalfEven(decimal("1"), decimal("-8"), 2))).toBe("-0.12");
    expect(formatDecimal(divideHalfEven(decimal("-3"), decimal("-8"), 2))).toBe("0.38");
    expect(formatDecimal(divideHalfEven(decimal("1"), decimal("-3"), 2))).toBe("-0.33");
    expect(formatDecimal(divideHalfEven(decimal("0.0001250"), decimal("10"), 5))).toBe("0.00001");
    expect(() => divideHalfEven(decimal("1"), decimal("0.0"), 2)).toThrow("division by zero");
  });
});
