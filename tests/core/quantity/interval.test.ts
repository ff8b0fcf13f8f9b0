import { describe, expect, it } from "vitest";
import { decimal } from "../../../core/quantity/decimal.js";
import { type Interval, intervalOf, isExact } from "../../../core/quantity/interval.js";

const value = decimal("0.005");

describe("what a printed value says", () => {
  it.each([
    [undefined, { low: value, high: value }],
    ["<", { high: value }],
    ["<=", { high: value }],
    [">", { low: value }],
    [">=", { low: value }],
  ] as const)("sign %s", (bound, interval) => {
    expect(intervalOf(value, bound)).toEqual(interval);
  });

  it.each<[string, Interval, boolean]>([
    ["equal ends", { low: value, high: value }, true],
    ["equal ends printed differently", { low: value, high: decimal("0.0050") }, true],
    ["ends apart", { low: value, high: decimal("0.0051") }, false],
    ["only a low end", { low: value }, false],
    ["only a high end", { high: value }, false],
    ["no end", {}, false],
  ])("%s: exact %s", (_, interval, is) => {
    expect(isExact(interval)).toBe(is);
  });
});
