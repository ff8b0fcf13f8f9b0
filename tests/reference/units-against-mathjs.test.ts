import { unit } from "mathjs";
import { describe, expect, it } from "vitest";
import { decimal, toNumber } from "../../core/quantity/decimal.js";
import { convert, dimensionOf, isUnit, type Unit } from "../../core/quantity/unit.js";

/** mathjs rounds its own kip and psi to eight digits, so both are spelled by its exact pound-force. */
const THOUSANDS: readonly Unit[] = ["ksi", "kip"];

/** Our unit in the notation of mathjs, whose table of units was made by others. */
const MATHJS_UNITS: Readonly<Partial<Record<Unit, string>>> = {
  MPa: "MPa",
  "N/mm2": "N/mm^2",
  Pa: "Pa",
  kPa: "kPa",
  GPa: "GPa",
  ksi: "lbf/in^2",
  psi: "lbf/in^2",
  "kgf/mm2": "kgf/mm^2",
  "kgf/cm2": "kgf/cm^2",
  J: "J",
  "ft.lbf": "ft lbf",
  "kgf.m": "kgf m",
  "J/cm2": "J/cm^2",
  "kgf.m/cm2": "kgf m/cm^2",
  mm: "mm",
  cm: "cm",
  m: "m",
  um: "um",
  in: "in",
  mm2: "mm^2",
  in2: "in^2",
  N: "N",
  kN: "kN",
  kgf: "kgf",
  lbf: "lbf",
  kip: "lbf",
  kg: "kg",
  g: "g",
  lb: "lbm",
  "°C": "degC",
  "°F": "degF",
  K: "K",
  s: "s",
  min: "min",
};

const known = Object.keys(MATHJS_UNITS).filter(isUnit);
const pairs = known.flatMap((from) =>
  known.filter((to) => from !== to && dimensionOf(from) === dimensionOf(to)).map((to) => [from, to] as const),
);

describe("conversions against mathjs", () => {
  it.each(pairs)("%s to %s", (from, to) => {
    for (const value of ["0", "1", "-196", "515", "0.0385", "70000"]) {
      const inTheirs = Number.parseFloat(value) * (THOUSANDS.includes(from) ? 1000 : 1);
      const converted = unit(inTheirs, MATHJS_UNITS[from]!).toNumber(MATHJS_UNITS[to]!);
      const expected = converted / (THOUSANDS.includes(to) ? 1000 : 1);
      const actual = toNumber(convert(decimal(value), from, to)!);
      expect(Math.abs(actual - expected)).toBeLessThanOrEqual(1e-9 + Math.abs(expected) * 1e-11);
    }
  });

  it("covers every unit that mathjs has too", () => {
    const left = ["%", "ppm", "mil", "°", "HBW", "HRB", "HRC", "HV", "1"];
    expect(left.every((name) => isUnit(name) && !(name in MATHJS_UNITS))).toBe(true);
    expect(pairs.length).toBeGreaterThan(90);
  });
});
