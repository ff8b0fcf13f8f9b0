import { Decimal as DecimalJs } from "decimal.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { add, compare, type Decimal, formatDecimal, multiply, shift, subtract } from "../../core/quantity/decimal.js";
import { compareWithShare, fraction, shareOf } from "../../core/quantity/fraction.js";
import { divideHalfEven, roundHalfAway, roundHalfEven, roundToMultiple } from "../../core/quantity/round.js";

const Exact = DecimalJs.clone({ precision: 120 });
const theirs = (value: Decimal) => new Exact(formatDecimal(value));

const decimals = fc
  .tuple(fc.bigInt({ min: -(10n ** 15n), max: 10n ** 15n }), fc.integer({ min: 0, max: 9 }))
  .map(([digits, places]): Decimal => ({ digits, places }));
/** Values that lie exactly between two neighbours, where rounding rules part. */
const halves = fc
  .tuple(fc.bigInt({ min: -(10n ** 9n), max: 10n ** 9n }), fc.integer({ min: 0, max: 5 }))
  .map(([digits, places]) => [{ digits: digits * 10n + 5n, places: places + 1 }, places] as const);
const places = fc.integer({ min: 0, max: 12 });

describe("exact decimals against decimal.js", () => {
  it("add, subtract, multiply, shift and compare alike", () => {
    fc.assert(
      fc.property(decimals, decimals, fc.integer({ min: -6, max: 6 }), (left, right, power) => {
        expect(theirs(add(left, right)).eq(theirs(left).add(theirs(right)))).toBe(true);
        expect(theirs(subtract(left, right)).eq(theirs(left).sub(theirs(right)))).toBe(true);
        expect(theirs(multiply(left, right)).eq(theirs(left).mul(theirs(right)))).toBe(true);
        expect(theirs(shift(left, power)).eq(theirs(left).mul(new Exact(10).pow(power)))).toBe(true);
        expect(compare(left, right)).toBe(theirs(left).cmp(theirs(right)));
      }),
    );
  });

  it("round alike, halves above all", () => {
    const both = (value: Decimal, at: number) => {
      expect(formatDecimal(roundHalfEven(value, at))).toBe(fixed(value, at, DecimalJs.ROUND_HALF_EVEN));
      expect(formatDecimal(roundHalfAway(value, at))).toBe(fixed(value, at, DecimalJs.ROUND_HALF_UP));
    };
    fc.assert(fc.property(decimals, places, both));
    fc.assert(fc.property(halves, ([value, at]) => both(value, at)));
  });

  it("round to multiples alike", () => {
    const steps = fc.constantFrom<Decimal>(
      { digits: 5n, places: 1 },
      { digits: 5n, places: 0 },
      { digits: 50n, places: 0 },
      { digits: 25n, places: 2 },
    );
    fc.assert(
      fc.property(decimals, steps, (value, step) => {
        const expected = theirs(value).toNearest(theirs(step), DecimalJs.ROUND_HALF_EVEN);
        expect(theirs(roundToMultiple(value, step)).eq(expected)).toBe(true);
      }),
    );
  });

  it("divide alike", () => {
    fc.assert(
      fc.property(
        decimals,
        decimals.filter(({ digits }) => digits !== 0n),
        places,
        (left, right, at) => {
          const expected = theirs(left).div(theirs(right)).toDecimalPlaces(at, DecimalJs.ROUND_HALF_EVEN);
          expect(theirs(divideHalfEven(left, right, at)).eq(expected)).toBe(true);
        },
      ),
    );
  });

  it("take shares alike", () => {
    const shares = fc.constantFrom("2/3", "7/10", "5/6", "5/9", "4/9", "1/3", "3/4");
    fc.assert(
      fc.property(decimals, decimals, shares, (value, whole, text) => {
        const [numerator, denominator] = text.split("/").map((part) => new Exact(part));
        const exact = theirs(whole).mul(numerator!).div(denominator!);
        expect(
          theirs(shareOf(fraction(text), whole))
            .sub(exact)
            .abs()
            .lt(1e-11),
        ).toBe(true);
        expect(compareWithShare(value, fraction(text), whole)).toBe(
          theirs(value).mul(denominator!).cmp(theirs(whole).mul(numerator!)),
        );
      }),
    );
  });
});

function fixed(value: Decimal, at: number, rule: DecimalJs.Rounding): string {
  const rounded = theirs(value).toDecimalPlaces(at, rule);
  // decimal.js keeps a minus before zero, which no printed number has.
  return (rounded.isZero() ? new Exact(0) : rounded).toFixed(at);
}
