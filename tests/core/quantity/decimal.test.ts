import { Decimal as Reference } from "decimal.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  absolute,
  add,
  compare,
  decimal,
  extend,
  formatDecimal,
  formatShortest,
  multiply,
  parseDecimal,
  shift,
  subtract,
  toNumber,
} from "../../../core/quantity/decimal.js";

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
    ["12.", "12"],
    [" 0.030 ", "0.030"],
    ["9".repeat(60), "9".repeat(60)], // as long as anything printed may be
  ])("reads %s as %s", (text, printed) => expect(formatDecimal(decimal(text))).toBe(printed));

  it.each(["", ".", "-", "1,234", "1e3", "0x10", "1.2.3", "l.45", "12 3", "x12", "12x", "9".repeat(61)])(
    "refuses %j",
    (text) => expect(parseDecimal(text)).toBeUndefined(),
  );

  it("throws where a literal is no number", () => {
    expect(() => decimal("12,5")).toThrow('not a decimal number: "12,5"');
  });

  it("never drops places that were printed", () => {
    expect(formatDecimal(extend(decimal("0.03"), 3))).toBe("0.030");
    expect(formatDecimal(extend(decimal("0.03"), 2))).toBe("0.03");
    const shortest = ["9.525000", "10.0", "100", "0.00", "-0.50"].map((text) => formatShortest(decimal(text)));
    expect(shortest).toEqual(["9.525", "10", "100", "0", "-0.5"]);
    expect(() => extend(decimal("0.030"), 2)).toThrow("extend cannot drop places (3 to 2)");
  });

  it.each([
    ["-0.10", "0.10"],
    ["0.10", "0.10"],
    ["0", "0"],
  ])("the size of %s is %s", (text, size) => expect(formatDecimal(absolute(decimal(text)))).toBe(size));

  it("becomes a binary number for plotting", () => {
    expect(toNumber(decimal("-195.80"))).toBe(-195.8);
  });

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
    expect(formatDecimal(shift(decimal("0.018"), 2))).toBe("1.8");
    expect(formatDecimal(shift(decimal("0.018"), 3))).toBe("18");
    expect(formatDecimal(shift(decimal("0.018"), 4))).toBe("180");
  });
});
