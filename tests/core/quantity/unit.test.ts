import { describe, expect, it } from "vitest";
import { decimal, formatDecimal } from "../../../core/quantity/decimal.js";
import { convert, dimensionOf, isUnit } from "../../../core/quantity/unit.js";

describe("units", () => {
  it.each([
    ["MPa", true],
    ["°C", true],
    ["1", true],
    ["mpa", false],
    ["toString", false],
    ["", false],
  ])("%j is one: %s", (text, is) => expect(isUnit(text)).toBe(is));

  it("tell energy from energy per area, and each hardness scale from the others", () => {
    expect(dimensionOf("J")).not.toBe(dimensionOf("J/cm2"));
    expect(new Set((["HBW", "HRB", "HRC", "HV"] as const).map(dimensionOf)).size).toBe(4);
  });
});

describe("convert", () => {
  it("keeps the print between units of one size", () => {
    expect(formatDecimal(convert(decimal("485"), "N/mm2", "MPa")!)).toBe("485");
    expect(formatDecimal(convert(decimal("-196.0"), "°C", "°C")!)).toBe("-196.0");
  });

  it("refuses to cross dimensions", () => {
    expect(convert(decimal("200"), "HBW", "HV")).toBeUndefined();
    expect(convert(decimal("60"), "J", "J/cm2")).toBeUndefined();
  });

  it.each([
    ["70", "ksi", "MPa", 482.6330105217753],
    ["-320", "°F", "°C", -195.55555555555554],
    ["77", "K", "°C", -196.15],
    ["20", "ft.lbf", "J", 27.116358966628],
    ["52", "kgf/mm2", "MPa", 509.9458],
    ["15", "mil", "mm", 0.381],
  ] as const)("converts %s %s to %s", (text, from, to, expected) => {
    expect(Number(formatDecimal(convert(decimal(text), from, to)!))).toBeCloseTo(expected, 10);
  });

  it.each([
    ["300", "ppm", "%", "0.0300"],
    ["0.03", "%", "ppm", "300"],
    ["0.1234567", "%", "ppm", "1234.567"],
    ["205", "GPa", "MPa", "205000"],
    ["485000", "kPa", "MPa", "485.000"],
    ["10.0", "mm", "cm", "1.00"],
    ["-0.5", "m", "um", "-500000"],
  ] as const)("moves the point of %s %s in %s and adds no places: %s", (text, from, to, expected) => {
    expect(formatDecimal(convert(decimal(text), from, to)!)).toBe(expected);
  });

  it("keeps twelve places more than printed", () => {
    expect(formatDecimal(convert(decimal("1"), "°F", "°C")!)).toBe("-17.222222222222");
    expect(formatDecimal(convert(decimal("1.0"), "°F", "°C")!)).toBe("-17.2222222222222");
  });
});
