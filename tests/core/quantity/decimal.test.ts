import { Decimal as Reference } from "decimal.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  add,
  compare,
  decimal,
  formatDecimal,
  multiply,
  parseDecimal,
  shift,
  subtract,
} from "../../../core/quantity/decimal.js";
import { convert } from "../../../core/quantity/unit.js";

const decimals = fc
  .tuple(fc.bigInt({ min: -(10n ** 12n), max: 10n ** 12n }), fc.integer({ min: 0, max: 9 }))
  .map(([digits, places]) => ({ digits, places }));

describe("decimal", () => {
  it.each([
    ["0.030", "0.030"],
    [".0213", "0.0213"],
    ["-196", "-196"],
    ["+12.5", "12.5"],
    ["007", "7"],
  ])("reads %s as %s", (text, printed) => expect(formatDecimal(decimal(text))).toBe(printed));

  it.each(["", ".", "-", "1,234", "1e3", "0x10", "1.2.3", "l.45", "12 3", "9".repeat(61)])("refuses %j", (text) =>
    expect(parseDecimal(text)).toBeUndefined(),
  );

  it("prints back what it reads", () => {
    fc.assert(fc.property(decimals, (value) => void expect(decimal(formatDecimal(value))).toEqual(value)));
  });

  it("agrees with decimal.js", () => {
    Reference.set({ precision: 60 });
    fc.assert(
      fc.property(decimals, decimals, (left, right) => {
        const [a, b] = [new Reference(formatDecimal(left)), new Reference(formatDecimal(right))];
        expect(compare(left, right)).toBe(a.comparedTo(b));
        expect(a.plus(b).equals(formatDecimal(add(left, right)))).toBe(true);
        expect(a.minus(b).equals(formatDecimal(subtract(left, right)))).toBe(true);
        expect(a.times(b).equals(formatDecimal(multiply(left, right)))).toBe(true);
      }),
    );
  });

  it("shifts by powers of ten without rounding", () => {
    expect(formatDecimal(shift(decimal("18"), -3))).toBe("0.018");
    expect(formatDecimal(shift(decimal("0.018"), 4))).toBe("180");
  });
});

describe("convert", () => {
  it("keeps the print between units of one size", () => {
    expect(formatDecimal(convert(decimal("485"), "N/mm2", "MPa")!)).toBe("485");
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
});
