import { describe, expect, it } from "vitest";
import { decimal, formatDecimal } from "../../../core/quantity/decimal.js";
import { type BoundSign, intervalOf } from "../../../core/quantity/interval.js";
import type { Rounding } from "../../../core/quantity/rounding.js";
import { hold } from "../../../core/verdict/hold.js";

const judge = (text: string, bounds: { min?: string; max?: string }, rounding: Rounding) => {
  const [, sign, number] = /^([<>]=?)?(.*)$/.exec(text)!;
  const value = intervalOf(decimal(number!), sign as BoundSign | undefined);
  return hold(
    value,
    {
      ...(bounds.min && { min: decimal(bounds.min) }),
      ...(bounds.max && { max: decimal(bounds.max) }),
    },
    rounding,
  );
};

describe("hold against a maximum of 0.030", () => {
  it.each([
    ["0.029", "pass", "pass"],
    ["0.030", "pass", "pass"],
    ["0.0304", "pass", "fail"],
    ["0.0305", "pass", "fail"], // exactly halfway: 0.030 is the even neighbour
    ["0.03050001", "fail", "fail"],
    ["0.031", "fail", "fail"],
    ["<0.030", "pass", "pass"],
    ["<0.031", "open", "open"],
    [">0.030", "open", "open"],
    [">0.031", "fail", "fail"],
    ["<=0.03", "pass", "pass"],
  ])("%s: %s by the rounding method, %s by the absolute method", (text, rounding, absolute) => {
    expect(judge(text, { max: "0.030" }, "rounding method").outcome).toBe(rounding);
    expect(judge(text, { max: "0.030" }, "absolute").outcome).toBe(absolute);
  });
});

describe("hold against a minimum of 485", () => {
  it.each([
    ["484.4", "fail", "fail"],
    ["484.5", "fail", "fail"], // halfway, 484 is even
    ["484.51", "pass", "fail"],
    ["485", "pass", "pass"],
    ["485.5", "pass", "pass"],
    [">485", "pass", "pass"],
    [">484", "open", "open"],
    ["<485", "open", "open"],
    ["<484", "fail", "fail"],
  ])("%s: %s by the rounding method, %s by the absolute method", (text, rounding, absolute) => {
    expect(judge(text, { min: "485" }, "rounding method").outcome).toBe(rounding);
    expect(judge(text, { min: "485" }, "absolute").outcome).toBe(absolute);
  });
});

describe("hold against a range of 17.5 to 19.5", () => {
  it.each([
    ["17.4", "fail", "17.4", "-0.1"],
    ["17.45", "fail", "17.4", "-0.1"],
    ["17.46", "pass", "17.5", "0.0"],
    ["17.5", "pass", "17.5", "0.0"],
    ["18.0", "pass", "18.0", "0.5"],
    ["19.54", "pass", "19.5", "0.0"],
    ["19.6", "fail", "19.6", "-0.1"],
    // 0.03 against 0.030: the printed places decide what is rounded away.
  ])("%s: %s, judged as %s with margin %s", (text, outcome, judged, margin) => {
    const held = judge(text, { min: "17.5", max: "19.5" }, "rounding method");
    expect([held.outcome, formatDecimal(held.judged), formatDecimal(held.margin)]).toEqual([outcome, judged, margin]);
  });
});

it("takes the printed places of the limit: 0.034 passes 0.03 and fails 0.030", () => {
  expect(judge("0.034", { max: "0.03" }, "rounding method").outcome).toBe("pass");
  expect(judge("0.034", { max: "0.030" }, "rounding method").outcome).toBe("fail");
});

it.each([
  ["18.0", "min"],
  ["19.0", "max"],
  ["17.4", "min"],
  ["19.6", "max"],
])("%s is shown against the nearer bound of 17.5 to 19.5: %s", (text, side) => {
  expect(judge(text, { min: "17.5", max: "19.5" }, "absolute").side).toBe(side);
});

// Of two bounds the one that may be crossed counts before the one that is nearer: an undecided value is never a pass.
it.each([
  ["<18.0", "open", "min"],
  ["<19.4", "open", "min"],
  ["<20.0", "open", "min"],
  [">19.0", "open", "max"],
  [">17.6", "open", "max"],
  ["<17.4", "fail", "min"],
  [">19.6", "fail", "max"],
  ["18.5", "pass", "min"], // as far from either: the minimum is shown
])("%s against 17.5 to 19.5: %s, shown against the %s", (text, outcome, side) => {
  expect(judge(text, { min: "17.5", max: "19.5" }, "absolute")).toMatchObject({ outcome, side });
});

it.each([
  [">19", "max"],
  ["<19", "min"],
])("fails %s against bounds that cross, by the bound that is surely crossed", (text, side) => {
  expect(judge(text, { min: "20", max: "18" }, "absolute")).toMatchObject({ outcome: "fail", side });
});

it("refuses to hold a value to nothing", () => {
  expect(() => judge("18.0", {}, "absolute")).toThrow("there is nothing to hold the value to: neither bound is given");
});

it("shows the far end of a value that is wholly outside", () => {
  expect(formatDecimal(judge("<484", { min: "485" }, "absolute").judged)).toBe("484");
  expect(() => hold({}, { min: decimal("485") }, "absolute")).toThrow("neither end is given");
});

it.each([
  // ISO 80000-1 B.3: rule A takes the even neighbour, rule B the one farther from zero.
  ["0.03049", { max: "0.030" }, "pass", "pass"],
  ["0.0305", { max: "0.030" }, "pass", "fail"],
  ["0.03051", { max: "0.030" }, "fail", "fail"],
  ["0.0315", { max: "0.031" }, "fail", "fail"],
  ["59.5", { min: "60" }, "pass", "pass"],
  ["58.5", { min: "59" }, "fail", "pass"],
  ["58.49", { min: "59" }, "fail", "fail"],
] as const)("%s against %j: %s by rule A, %s by rule B", (text, bounds, ruleA, ruleB) => {
  expect(judge(text, bounds, "rounding method").outcome).toBe(ruleA);
  expect(judge(text, bounds, "rounding rule B").outcome).toBe(ruleB);
});
