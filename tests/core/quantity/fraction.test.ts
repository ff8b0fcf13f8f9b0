import { describe, expect, it } from "vitest";
import { decimal, formatDecimal } from "../../../core/quantity/decimal.js";
import { compareWithShare, fraction, shareOf, trimPlaces } from "../../../core/quantity/fraction.js";

describe("fractions", () => {
  it.each([
    ["18.8999999999999999", "7/10", "27", -1],
    ["18.9", "7/10", "27", 0],
    ["18.90", "7/10", "27.0", 0],
    ["18.9000000000000001", "7/10", "27", 1],
    ["13.3333333333333333333", "2/3", "20", -1], // Two thirds of 20 has no end: every printed 13.33… is below it.
    ["13.3333333333333333334", "2/3", "20", 1],
    ["-2", "-1/2", "4", 0],
    ["6.25", "125/100", "5", 0], // a factor above one, as energies of sub-size pieces are raised
  ])("%s against %s of %s: %i", (value, share, whole, order) => {
    expect(compareWithShare(decimal(value), fraction(share), decimal(whole))).toBe(order);
  });

  it.each([
    ["5/6", "27", "22.5"],
    ["7/10", "27", "18.9"],
    ["1", "27.0", "27.0"],
    ["2/3", "20", "13.333333333333"],
  ])("%s of %s is %s", (share, whole, expected) => {
    expect(formatDecimal(shareOf(fraction(share), decimal(whole)))).toBe(expected);
  });

  it("drops only zeros, and no more than told", () => {
    expect(formatDecimal(trimPlaces(decimal("20.500"), 0))).toBe("20.5");
    expect(formatDecimal(trimPlaces(decimal("20.500"), 2))).toBe("20.50");
    expect(formatDecimal(trimPlaces(decimal("-0.00"), 0))).toBe("0");
  });

  it("refuses what is no fraction", () => {
    expect(() => fraction("0.5")).toThrow('not a fraction: "0.5"');
    expect(() => fraction("2/3 of it")).toThrow("not a fraction");
    expect(() => fraction("about 2/3")).toThrow("not a fraction");
    expect(() => fraction("1/0")).toThrow("not a fraction");
  });
});
