import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Decimal, decimal, formatDecimal } from "../../../core/quantity/decimal.js";
import { ROUNDINGS, type Rounding } from "../../../core/quantity/rounding.js";
import { IMPACT_RULES, impactRule } from "../../../core/requirement/impact-rules.js";
import { judgeSet, type SetRequirement } from "../../../core/requirement/judge-set.js";

function judge(name: string, required: { average?: string; single?: string; rounding?: Rounding }, singles: string) {
  const requirement: SetRequirement = {
    ...(required.average && { average: decimal(required.average) }),
    ...(required.single && { single: decimal(required.single) }),
    rounding: required.rounding ?? "rounding method",
  };
  return judgeSet(impactRule(name)!, requirement, values(singles));
}

function values(text: string): Decimal[] {
  return text.split(" ").filter(Boolean).map(decimal);
}

describe("a set of three", () => {
  // 70 % of 27 J is 18.9 J, two thirds 18 J: just inside, on, just outside each bound.
  it.each([
    ["70 %", "27 27 27", "pass", []],
    ["70 %", "18.9 31 32", "pass", []],
    ["70 %", "18.899 40 40", "fail", ["single-low"]],
    ["70 %", "26 28 27", "pass", []],
    ["70 %", "26 26 29", "fail", ["too-many-below-average"]],
    ["70 %", "20 30 30", "pass", []], // 26.67 rounds to 27
    ["70 %", "20 30 29", "fail", ["average-low"]],
    ["two thirds", "18 32 32", "pass", []],
    ["two thirds", "17.999 32 32", "fail", ["single-low"]],
    ["70%", "18 32 32", "fail", ["single-low"]],
    ["API 5L", "20.25 27 34", "pass", []],
    ["API 5L", "20.2 27 35", "fail", ["single-low"]],
    ["API 5L", "26 26 29", "pass", []], // Only the floor was recalled, not how many may be low.
  ])("by %s, %s J against 27 J: %s", (rule, singles, outcome, faults) => {
    expect(judge(rule, { average: "27" }, singles)).toMatchObject({ outcome, faults });
  });

  it("compares the mean exactly by the absolute method", () => {
    expect(judge("70 %", { average: "27", rounding: "absolute" }, "20 30 30").faults).toEqual(["average-low"]);
    expect(judge("70 %", { average: "27", rounding: "absolute" }, "20 30 31").faults).toEqual([]);
  });

  it("rounds the mean once, half to even, to the last place of the limit", () => {
    // 79.5 / 3 = 26.5 rounds to 26; 79.6 / 3 = 26.533… to 27.
    expect(judge("70 %", { average: "27" }, "20 30 29.5").outcome).toBe("fail");
    expect(judge("70 %", { average: "27" }, "20 30 29.6").outcome).toBe("pass");
  });

  it("shows a mean that never contradicts the comparison", () => {
    const set = judge("70 %", { average: "27", rounding: "absolute" }, "26.9 27.0 27.0");
    expect(formatDecimal(set.average!)).toBe("26.967");
    expect(set.faults).toContain("average-low");
  });

  it("tells the mean that was compared from the mean as it is", () => {
    const shown = (rounding?: "absolute") => {
      const { average, judgedAverage } = judge("70 %", { average: "27", ...(rounding && { rounding }) }, "20 30 30");
      return [average, judgedAverage].map((value) => formatDecimal(value!));
    };
    expect(shown()).toEqual(["26.67", "27"]);
    expect(shown("absolute")).toEqual(["26.67", "26.67"]);
    expect(judge("70 %", { single: "27" }, "20 30 30").judgedAverage).toBeUndefined();
    expect("lowest" in judge("70 %", { average: "27" }, "")).toBe(false);
  });

  it("holds singles to a stated minimum before any share", () => {
    expect(judge("70 %", { average: "60", single: "42" }, "42 70 70").outcome).toBe("pass");
    expect(judge("70 %", { average: "60", single: "45" }, "44 70 70").faults).toEqual(["single-low"]);
    expect(judge("as stated", { average: "60", single: "42" }, "50 55 90").outcome).toBe("pass");
  });

  it("does not judge singles by a guess where the table prints them", () => {
    expect(judge("ASTM A350", { average: "20" }, "30 30 30")).toMatchObject({
      outcome: "undetermined",
      reason: "single-not-stated",
    });
    expect(judge("ASTM A350", { average: "20", single: "16" }, "30 30 30").outcome).toBe("pass");
  });

  it("fails an incomplete set only for what no further piece can mend", () => {
    expect(judge("70 %", { average: "27" }, "20 30")).toMatchObject({
      outcome: "undetermined",
      reason: "pieces-missing",
    });
    expect(judge("70 %", { average: "27" }, "18 30").outcome).toBe("fail");
    expect(judge("70 %", { average: "27" }, "26 26").outcome).toBe("fail");
    expect(judge("70 %", { average: "27" }, "").reason).toBe("pieces-missing");
    expect(judge("70 %", { average: "27" }, "30 30 30 30").reason).toBe("pieces-too-many");
    expect(judge("70 %", {}, "30 30 30").reason).toBe("required-not-stated");
  });

  it("holds every piece to the lateral expansion, whatever the mean", () => {
    expect(judge("each specimen", { single: "0.38" }, "0.38 0.40 0.52").outcome).toBe("pass");
    expect(judge("each specimen", { single: "0.38" }, "0.37 0.60 0.60").faults).toEqual(["single-low"]);
    expect(judge("each specimen", {}, "0.37 0.60 0.60").reason).toBe("single-not-stated");
  });

  it("averages the middle three of five", () => {
    const set = judge("set of five", { average: "30" }, "90 20 28 34 30");
    expect(formatDecimal(set.average!)).toBe("30.67");
    expect(set.outcome).toBe("pass");
    expect(judge("set of five", { average: "31", rounding: "absolute" }, "90 20 28 34 30").outcome).toBe("fail");
  });
});

it.each([
  // A mean of exactly 40.5 against 41: rule B rounds it up to 41, rule A down to 40; 40.49… is below by both.
  ["40.5 40.5 40.5", "41", "fail", "pass"],
  ["40.5 40.5 40.4", "41", "fail", "fail"],
  ["41.5 41.5 41.5", "42", "pass", "pass"],
] as const)(
  "%s against an average of %s J: %s by rule A, %s by rule B of ISO 80000-1",
  (singles, average, ruleA, ruleB) => {
    const by = (rounding: Rounding) => judge("70 %", { average, rounding }, singles).outcome;
    expect(by("rounding method")).toBe(ruleA);
    expect(by("rounding rule B")).toBe(ruleB);
  },
);

describe("properties of a set", () => {
  const energy = fc.integer({ min: 0, max: 3000 }).map((tenths) => ({ digits: BigInt(tenths), places: 1 }));
  const rules = fc.constantFrom(...IMPACT_RULES.filter((rule) => rule.pieces === 3 && rule.average === "mean"));
  const RANK = { fail: 0, undetermined: 1, pass: 2 };

  it("a better piece never worsens the outcome, and order does not matter", () => {
    fc.assert(
      fc.property(
        rules,
        fc.tuple(energy, energy, energy),
        energy,
        energy,
        fc.constantFrom(...ROUNDINGS),
        (rule, singles, average, gain, rounding) => {
          const required: SetRequirement = { average, single: { digits: average.digits / 2n, places: 1 }, rounding };
          const before = judgeSet(rule, required, singles);
          const better = { digits: singles[0].digits + gain.digits, places: 1 };
          const after = judgeSet(rule, required, [singles[2], better, singles[1]]);
          expect(RANK[after.outcome]).toBeGreaterThanOrEqual(RANK[before.outcome]);
        },
      ),
    );
  });
});

describe("the rules as data", () => {
  it("have names of their own that a requirement can carry", () => {
    const names = IMPACT_RULES.map((rule) => rule.name.toLowerCase().replace(/\s/g, ""));
    expect(new Set(names).size).toBe(names.length);
    for (const rule of IMPACT_RULES) {
      expect(rule.name.length).toBeLessThanOrEqual(40);
      expect(impactRule(rule.name.toUpperCase())).toBe(rule);
    }
    expect(impactRule("75 %")).toBeUndefined();
  });

  it("count no sources where they are recalled, and at least one where seen", () => {
    for (const { known } of IMPACT_RULES) expect(known.sources > 0).toBe(known.how === "seen");
  });
});
