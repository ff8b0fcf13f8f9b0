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
    [
      "a maximum of energy",
      {
        quantity: "KV",
        unit: "J",
        min: undefined,
        max: "27",
        inchPound: undefined,
        impact: { temperature: "-20", rule: "70 %" },
      },
      ["limits/0/impact needs a min and takes no max"],
    ],
    [
      "a single minimum above that of the average",
      {
        quantity: "KV",
        unit: "J",
        min: "27",
        max: undefined,
        inchPound: undefined,
        impact: { temperature: "-20", rule: "ASTM A350", single: "27.1" },
      },
      ["limits/0/impact has a single minimum above that of the average"],
    ],
    [
      "a trade-off that raises nothing",
      {
        max: undefined,
        inchPound: undefined,
        tradeOff: { element: "C", below: "1", step: "1", raises: "1", ceiling: "2" },
      },
      ["limits/0/tradeOff raises a max, and there is none"],
    ],
  ])("%s", (_, change, faults) => {
    expect(faultsOf(JSON.parse(JSON.stringify({ ...limit, ...change })))).toEqual(faults);
  });

  it.each<[string, object, string[]]>([
    ["a sound range", { thickness: { over: "6", upTo: "50" } }, []],
    ["one thickness", { thickness: { from: "6", upTo: "6.0" } }, []],
    ["a crossed range", { thickness: { over: "50", upTo: "6" } }, ["thickness holds nothing: it begins above its end"]],
    [
      "a range over its end",
      { thickness: { over: "6", upTo: "6" } },
      ["thickness holds nothing: it begins above its end"],
    ],
    [
      "a range under its begin",
      { thickness: { from: "6", under: "6" } },
      ["thickness holds nothing: it begins above its end"],
    ],
    ["a range without an end", { thickness: {} }, ["thickness has no end: give over, from, upTo or under"]],
    ["two begins", { thickness: { over: "6", from: "5" } }, ["thickness has both over and from"]],
    ["two ends", { thickness: { upTo: "6", under: "5" } }, ["thickness has both upTo and under"]],
    ["a condition in the trade's words", { condition: ["1/4 hard", "Solution annealed"] }, []],
    [
      "a misspelt condition",
      { condition: ["annealed", "soluton anealed"] },
      [expect.stringMatching(/^condition[/]1 is no known condition; known are .*1[/]4 hard, .*as rolled$/)],
    ],
  ])("conditions that no product meets: %s", (_, when, faults) => {
    expect(faultsOf({ ...limit, when }).map((fault) => fault.replace("limits/0/when/", ""))).toEqual(faults);
  });

  it("years that run backwards", () => {
    const grade = {
      id: "ours/2020/x",
      standard: "Tarnholm 12",
      name: "X",
      designations: ["X"],
      forms: ["plate"],
      limits: [],
    };
    const between = (from: number, to: number) =>
      gradeSchema.safeParse({ ...grade, rounding: "absolute", edition: { name: "2020", from, to } });
    expect(between(2020, 2019).error?.issues).toMatchObject([{ path: ["edition", "from"], message: "is after to" }]);
    expect(between(2020, 2020).success).toBe(true);
  });

  it("a limit that is there twice", () => {
    expect(faultsOf(limit, limit)).toEqual(["limits/1/id is not unique"]);
  });
});
