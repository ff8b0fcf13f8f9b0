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

const plain = { min: undefined, max: undefined, inchPound: undefined };
const manganese = { ...plain, quantity: "Mn", unit: "%", max: "1.05" };
const carbonEquivalent = { ...plain, quantity: "CE", unit: "1", max: "0.43" };
const energy = { ...plain, quantity: "KV", unit: "J", min: "27", impact: { temperature: "-20", rule: "70 %" } };

/** Manganese against carbon. */
function trade(change: object) {
  return { element: "C", below: "0.30", step: "0.01", raises: "0.06", ceiling: "1.35", ...change };
}

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
    ["a sound trade-off", { ...manganese, tradeOff: trade({}) }, []],
    [
      "a trade-off that raises nothing",
      { ...manganese, min: "0.60", max: undefined, tradeOff: trade({}) },
      ["limits/0/tradeOff raises a max, and there is none"],
    ],
    [
      "a trade-off without a step",
      { ...manganese, tradeOff: trade({ step: "0.00" }) },
      ["limits/0/tradeOff needs a step and a rise above zero"],
    ],
    [
      "a trade-off that lowers",
      { ...manganese, tradeOff: trade({ raises: "-0.06" }) },
      ["limits/0/tradeOff needs a step and a rise above zero"],
    ],
    ["a ceiling at the maximum", { ...manganese, tradeOff: trade({ ceiling: "1.05" }) }, []],
    [
      "a ceiling below the maximum",
      { ...manganese, tradeOff: trade({ ceiling: "1.04" }) },
      ["limits/0/tradeOff has its ceiling below the max that it raises"],
    ],
    [
      "a trade-off of strengths",
      { tradeOff: trade({ ceiling: "700" }) },
      ["limits/0/tradeOff is for contents of elements, not for Rm"],
    ],
    [
      "a strength computed from elements",
      { min: undefined, max: undefined, inchPound: undefined, minFrom: { times: "5", of: ["C"] } },
      ["limits/0/minFrom is for contents of elements, not for Rm"],
    ],
    [
      "a maximum beside a computed one",
      { ...manganese, maxFrom: { times: "6", of: ["C"] } },
      ["limits/0/maxFrom is a second maximum beside max: give one"],
    ],
    [
      "a minimum beside a computed one",
      { ...manganese, min: "0.60", minFrom: { times: "6", of: ["C"] } },
      ["limits/0/minFrom is a second minimum beside min: give one"],
    ],
    ["a computed minimum below a maximum", { ...manganese, minFrom: { times: "6", of: ["C"] } }, []],
    [
      "to be reported, with a bound that nobody would hold",
      { ...manganese, reportOnly: true },
      ["limits/0/reportOnly bounds nothing, and there is a bound beside it"],
    ],
    [
      "a strength of the heat analysis",
      { analysis: "heat" },
      ["limits/0/analysis is given, and Rm is not from an analysis"],
    ],
    ["a content of the product analysis", { ...manganese, analysis: "product" }, []],
    ["an index of the heat analysis", { ...carbonEquivalent, formula: "CE (IIW)", analysis: "heat" }, []],
    ["an index by its usual formula", carbonEquivalent, []],
    [
      "an index by another's formula",
      { ...carbonEquivalent, formula: "Pcm" },
      ["limits/0/formula does not compute CE"],
    ],
    ["a strength by a formula", { formula: "CE (IIW)" }, ["limits/0/formula does not compute Rm"]],
    [
      "carbon by the formula of a carbon equivalent",
      { ...carbonEquivalent, quantity: "C", formula: "CE (IIW)" },
      ["limits/0/formula does not compute C"],
    ],
    [
      "an index by a formula that is not known",
      { ...carbonEquivalent, formula: "CE (ours)" },
      ["limits/0/formula is not a known formula"],
    ],
    [
      "an index whose formulas contradict each other",
      { ...carbonEquivalent, quantity: "Md30", unit: "°C" },
      ["limits/0/formula is needed: formulas for Md30 contradict each other"],
    ],
    ["a ratio under the name of its element", { ...carbonEquivalent, quantity: "Mn", formula: "Mn/S" }, []],
    [
      "a ratio in percent",
      { ...carbonEquivalent, quantity: "Mn", formula: "Mn/S", unit: "%" },
      ["limits/0/unit is no unit of Mn/S"],
    ],
    [
      "a sum held by a formula",
      { ...carbonEquivalent, quantity: "Mn", formula: "Mn/S", sumOf: ["Mn", "S"] },
      ["limits/0/sumOf is for contents of elements, not for Mn/S"],
    ],
    [
      "energy of a U notch",
      { ...energy, quantity: "KU" },
      ["limits/0/quantity is not judged in sets: KV, KCV, LE are"],
    ],
    [
      "shear fracture in sets",
      { ...energy, quantity: "SFA", unit: "%" },
      ["limits/0/quantity is not judged in sets: KV, KCV, LE are"],
    ],
    ["energy", energy, []],
    ["energy per area", { ...energy, quantity: "KCV", unit: "J/cm2" }, []],
    ["lateral expansion", { ...energy, quantity: "LE", unit: "mm", min: "0.38" }, []],
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
    ["a form of the grade", { form: ["plate"] }, []],
    ["a form of the grade, more closely", { form: ["hot-rolled plates"] }, []],
    ["a form that ends alike", { form: ["template"] }, ["form/0 is no form of this grade; its forms are plate"]],
    [
      "a form that the grade does not come in",
      { form: ["plate", "pipe"] },
      ["form/1 is no form of this grade; its forms are plate"],
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
