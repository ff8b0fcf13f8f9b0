import { describe, expect, it } from "vitest";
import { gradeSchema, type Limit } from "../../../core/grades/grade.js";

const limit: Limit = {
  id: "Rm",
  quantity: "Rm",
  unit: "MPa",
  min: "485",
  max: "620",
  inchPound: { unit: "ksi", min: "70", max: "90" },
  source: { clause: "Table 2" },
  known: { how: "user", sources: 1 },
};

function faultsOf(...limits: unknown[]): string[] {
  const result = gradeSchema.safeParse({
    id: "ours/2020/x",
    standard: "Tarnholm 12",
    edition: { name: "2020" },
    name: "X",
    designations: ["X"],
    forms: ["plate"],
    rounding: "absolute",
    limits,
  });
  return result.success ? [] : result.error.issues.map(({ path, message }) => `${path.join("/")} ${message}`);
}

describe("a limit whose fields contradict each other", () => {
  it.each<[string, object, string[]]>([
    ["sound", {}, []],
    ["minimum equal to maximum", { min: "620.0", inchPound: undefined }, []],
    ["minimum above maximum", { min: "620.1" }, ["limits/0/min is above max"]],
    [
      "no bound",
      { min: undefined, max: undefined, inchPound: undefined },
      ["limits/0/quantity bounds nothing: give min, max, minFrom, maxFrom or reportOnly"],
    ],
    ["only to be reported", { min: undefined, max: undefined, inchPound: undefined, reportOnly: true }, []],
    ["a strength in percent", { unit: "%" }, ["limits/0/unit is no unit of Rm"]],
    [
      "an inch-pound partner in percent",
      { inchPound: { unit: "%", min: "70", max: "90" } },
      ["limits/0/inchPound is in no unit of Rm"],
    ],
    [
      "a crossed inch-pound partner",
      { inchPound: { unit: "ksi", min: "91", max: "90" } },
      ["limits/0/inchPound has its min above its max"],
    ],
    [
      "a one-sided inch-pound partner",
      { inchPound: { unit: "ksi", min: "70" } },
      ["limits/0/inchPound bounds other sides than the limit itself"],
    ],
    [
      "a sum that begins elsewhere",
      { quantity: "Cr", unit: "%", min: undefined, max: "0.32", inchPound: undefined, sumOf: ["Mo", "Cr"] },
      ["limits/0/sumOf must begin with the quantity"],
    ],
    [
      "energy without a temperature",
      { quantity: "KV", unit: "J", max: undefined, inchPound: undefined },
      ["limits/0/impact belongs to impact quantities, and they need it"],
    ],
    [
      "strength with an impact rule",
      { impact: { temperature: "-196", rule: "70 %" } },
      ["limits/0/impact belongs to impact quantities, and they need it"],
    ],
  ])("%s", (_, change, faults) => {
    expect(faultsOf(JSON.parse(JSON.stringify({ ...limit, ...change })))).toEqual(faults);
  });

  it("a limit that is there twice", () => {
    expect(faultsOf(limit, limit)).toEqual(["limits/1/id is not unique"]);
  });
});
