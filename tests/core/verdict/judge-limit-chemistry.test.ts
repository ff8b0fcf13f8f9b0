import { describe, expect, it } from "vitest";
import type { Analysis, Reading } from "../../../core/certificate/certificate.js";
import type { ToleranceTable } from "../../../core/grades/grade.js";
import { formatDecimal } from "../../../core/quantity/decimal.js";
import type { Quantity } from "../../../core/quantity/quantity.js";
import type { AppliedLimit } from "../../../core/verdict/applied-limit.js";
import { judgeLimit } from "../../../core/verdict/judge-limit.js";
import { reading } from "../../support/heat.js";
import { appliedLimit, evidenceOf, MEMORY, outcomesOf, SEEN } from "../../support/judging.js";

/** "C 0.021", "Cr <0.05": readings of one analysis. */
function analysed(text: string, analysis: Analysis = "heat"): Reading[] {
  return text
    .split(", ")
    .filter((part) => part !== "")
    .map((part) => {
      const [quantity, value] = part.split(" ");
      return reading(quantity as Quantity, value!, { analysis });
    });
}

const judged = (applied: AppliedLimit, readings: readonly Reading[]) => judgeLimit(applied, evidenceOf(readings));

describe("heat and product analysis", () => {
  const tolerances: ToleranceTable = {
    id: "ours",
    standard: "ASTM X2",
    edition: "2020",
    rows: [
      { element: "C", limit: { upTo: "0.010" }, overMax: "0.002", known: SEEN },
      { element: "C", limit: { over: "0.010", upTo: "0.040" }, overMax: "0.005", known: SEEN },
      { element: "Cr", limit: { over: "15.00", upTo: "20.00" }, underMin: "0.20", overMax: "0.20", known: SEEN },
    ],
  };
  const carbon = (more: Partial<AppliedLimit> = {}) =>
    appliedLimit({ quantity: "C", max: "0.030", analysis: "heat" }, { tolerances, ...more });

  it.each([
    ["0.030", "pass"],
    ["0.031", "fail"],
  ])("heat analysis %s against 0.030 takes no allowance: %s", (text, outcome) => {
    expect(outcomesOf(judged(carbon(), analysed(`C ${text}`)))).toEqual([outcome]);
  });

  it.each([
    ["0.030", "pass"],
    ["0.035", "pass"],
    ["0.036", "fail"],
  ])("product analysis %s against 0.030 with 0.005 allowed: %s", (text, outcome) => {
    const readings = [...analysed("C 0.021"), ...analysed(`C ${text}`, "product")];
    expect(outcomesOf(judged(carbon(), readings))).toEqual(["pass", outcome]);
  });

  it("tells which allowance was given", () => {
    const [, product] = judged(carbon(), [...analysed("C 0.021"), ...analysed("C 0.033", "product")]);
    expect(product!.notes).toMatchObject([{ code: "product-analysis", tolerance: { digits: 5n, places: 3 } }]);
    expect(formatDecimal(product!.limit!.max!)).toBe("0.035");
  });

  it("widens a range on both sides", () => {
    const chromium = appliedLimit({ quantity: "Cr", min: "17.5", max: "19.5", analysis: "heat" }, { tolerances });
    const product = (text: string) =>
      outcomesOf(judged(chromium, [...analysed("Cr 18.0"), ...analysed(`Cr ${text}`, "product")]))[1];
    expect([product("17.30"), product("17.29"), product("19.70"), product("19.71")]).toEqual([
      "pass",
      "fail",
      "pass",
      "fail",
    ]);
  });

  it.each([
    ["0.030", "pass"],
    ["0.031", "undetermined reference-unverified"], // may pass by the allowance, which nobody has seen
    ["0.036", "undetermined reference-unverified"], // would fail by the remembered number
  ])("an allowance from memory neither passes nor fails product analysis %s: %s", (text, outcome) => {
    const rows = tolerances.rows.map((row) => ({ ...row, known: MEMORY }));
    const readings = [...analysed("C 0.021"), ...analysed(`C ${text}`, "product")];
    expect(outcomesOf(judged(carbon({ tolerances: { ...tolerances, rows } }), readings))[1]).toBe(outcome);
  });

  it("is known no better than the weaker of two allowances", () => {
    const [chromium] = tolerances.rows.slice(2);
    const rows = [
      { ...chromium!, overMax: undefined, known: MEMORY },
      { ...chromium!, underMin: undefined },
    ];
    const applied = appliedLimit(
      { quantity: "Cr", min: "17.5", max: "19.5", analysis: "heat" },
      { tolerances: { ...tolerances, rows } },
    );
    const readings = [...analysed("Cr 18.0"), ...analysed("Cr 17.40", "product")];
    expect(outcomesOf(judged(applied, readings))[1]).toBe("undetermined reference-unverified");
  });

  it("a standard without an allowance for the element leaves a product analysis outside undetermined", () => {
    const readings = [...analysed("C 0.021"), ...analysed("C 0.031", "product")];
    expect(outcomesOf(judged(carbon({ tolerances: { ...tolerances, rows: [] } }), readings))[1]).toBe(
      "undetermined reference-unverified",
    );
  });

  it("one bound for both analyses has no allowance", () => {
    const applied = appliedLimit({ quantity: "C", max: "0.030" }, { tolerances });
    const readings = [...analysed("C 0.021"), ...analysed("C 0.031", "product")];
    expect(outcomesOf(judged(applied, readings))).toEqual(["pass", "fail"]);
  });

  it("a printed product limit holds product analyses only, and asks for none", () => {
    const applied = appliedLimit({ quantity: "C", max: "0.035", analysis: "product" }, { tolerances });
    expect(judged(applied, analysed("C 0.050"))).toEqual([]);
    expect(outcomesOf(judged(applied, analysed("C 0.036", "product")))).toEqual(["fail"]);
    const heatLimit = carbon({ hasOwnProductLimit: true });
    expect(outcomesOf(judged(heatLimit, [...analysed("C 0.021"), ...analysed("C 0.050", "product")]))).toEqual([
      "pass",
    ]);
  });

  it("takes an analysis that is not marked for the heat's, and says so", () => {
    const { analysis: _, ...unmarked } = reading("C", "0.021");
    expect(judged(carbon(), [unmarked])).toMatchObject([{ outcome: "pass", notes: [{ code: "analysis-not-stated" }] }]);
  });

  it("leaves the analysis of weld metal out", () => {
    expect(outcomesOf(judged(carbon(), [reading("C", "0.050", { zone: "weld" }), reading("C", "0.021")]))).toEqual([
      "pass",
    ]);
  });
});

describe("a sum of elements", () => {
  const sum = appliedLimit({ quantity: "Cr", sumOf: ["Cr", "Mo", "Cu"], max: "0.50" });
  it.each([
    ["Cr 0.20, Mo 0.10, Cu 0.20", "pass"],
    ["Cr 0.20, Mo 0.10, Cu 0.21", "fail"],
    ["Cr 0.20, Mo <0.10, Cu 0.20", "pass"], // at most 0.50
    ["Cr 0.20, Mo <0.11, Cu 0.20", "undetermined bound-not-decisive"],
    ["Cr 0.40, Mo <0.10, Cu 0.11", "fail"], // 0.51 without any molybdenum
    ["Cr 0.20, Cu 0.20", "undetermined not-reported"],
    ["Cr 0.40, Cu 0.11", "fail"], // exceeded by the others alone
    ["Cr >0.20, Mo 0.10, Cu 0.10", "undetermined bound-not-decisive"],
    ["", "undetermined not-reported"],
  ])("%s against 0.50: %s", (text, outcome) => {
    expect(outcomesOf(judged(sum, analysed(text)))).toEqual([outcome]);
  });

  it("names the elements that are missing", () => {
    expect(judged(sum, analysed("Cr 0.20"))[0]?.says).toEqual({
      code: "operand-missing",
      of: "Cr+Mo+Cu",
      missing: ["Mo", "Cu"],
    });
  });

  it("rests on the readings of all its elements", () => {
    expect(judged(sum, analysed("Cr 0.20, Mo 0.10, Cu 0.20"))[0]?.readings.map(({ id }) => id)).toEqual([1, 2, 3]);
  });

  it("is asked of the product only where the product was analysed", () => {
    expect(
      outcomesOf(judged(sum, [...analysed("Cr 0.20, Mo 0.10, Cu 0.20"), ...analysed("Cr 0.60", "product")])),
    ).toEqual(["pass", "fail"]);
    expect(
      outcomesOf(judged(sum, [...analysed("Cr 0.20, Mo 0.10, Cu 0.20"), ...analysed("Cr 0.20", "product")])),
    ).toEqual(["pass", "undetermined not-reported"]);
  });
});

describe("a bound that other elements give", () => {
  const stabilised = appliedLimit({ quantity: "Ti", minFrom: { times: "5", of: ["C", "N"] }, max: "0.70" });
  it.each([
    ["Ti 0.150, C 0.020, N 0.010", "pass"],
    ["Ti 0.149, C 0.020, N 0.010", "fail"],
    ["Ti 0.70, C 0.020, N 0.010", "pass"],
    ["Ti 0.71, C 0.020, N 0.010", "fail"],
    ["Ti 0.150, C <0.020, N 0.010", "pass"], // enough for any carbon up to 0.020
    ["Ti 0.100, C <0.020, N 0.010", "undetermined bound-not-decisive"],
    ["Ti 0.049, C <0.020, N 0.010", "fail"], // too little even without carbon
    ["Ti 0.300, C >0.020, N 0.010", "undetermined not-reported"], // no end to what may be needed
    ["Ti 0.300, C 0.020", "undetermined not-reported"],
    ["C 0.020, N 0.010", "undetermined not-reported"],
  ])("%s: %s", (text, outcome) => {
    expect(outcomesOf(judged(stabilised, analysed(text)))).toEqual([outcome]);
  });

  it("says which element is missing for it", () => {
    expect(judged(stabilised, analysed("Ti 0.300, C 0.020"))[0]?.says).toMatchObject({ missing: ["N"] });
    expect(judged(stabilised, analysed("C 0.020, N 0.010"))[0]?.says).toEqual({ code: "not-reported" });
  });

  it("adds the constant of a formula like 0.15 + 4 x (C+N), and holds from above too", () => {
    const least = appliedLimit({ quantity: "Ti", minFrom: { plus: "0.15", times: "4", of: ["C", "N"] } });
    expect(outcomesOf(judged(least, analysed("Ti 0.270, C 0.020, N 0.010")))).toEqual(["pass"]);
    expect(outcomesOf(judged(least, analysed("Ti 0.269, C 0.020, N 0.010")))).toEqual(["fail"]);
    const most = appliedLimit({ quantity: "N", maxFrom: { times: "0.5", of: ["Al"] } });
    expect(outcomesOf(judged(most, analysed("N 0.010, Al 0.020")))).toEqual(["pass"]);
    expect(outcomesOf(judged(most, analysed("N 0.011, Al 0.020")))).toEqual(["fail"]);
    expect(outcomesOf(judged(most, analysed("N 0.010, Al <0.020")))).toEqual(["undetermined bound-not-decisive"]);
  });
});

describe("manganese traded against carbon", () => {
  // For each whole 0.01 % of carbon below 0.30 %, 0.06 % more manganese than 1.20 %, at most 1.35 %.
  const tradeOff = { element: "C" as const, below: "0.30", step: "0.01", raises: "0.06", ceiling: "1.35" };
  const manganese = appliedLimit({ quantity: "Mn", max: "1.20", tradeOff });
  it.each([
    ["Mn 1.20, C 0.30", "pass"],
    ["Mn 1.21, C 0.30", "fail"],
    ["Mn 1.21, C 0.31", "fail"],
    ["Mn 1.26, C 0.29", "pass"],
    ["Mn 1.27, C 0.29", "fail"],
    ["Mn 1.27, C 0.281", "fail"], // one whole step, not nearly two
    ["Mn 1.32, C 0.280", "pass"],
    ["Mn 1.35, C 0.25", "pass"],
    ["Mn 1.36, C 0.25", "fail"],
    ["Mn 1.26, C <0.29", "pass"], // whatever the carbon is, it is low enough for this
    ["Mn 1.27, C <0.29", "undetermined bound-not-decisive"],
    ["Mn 1.36, C <0.29", "fail"],
    ["Mn 1.20", "pass"],
    ["Mn 1.21", "undetermined bound-not-decisive"],
    ["Mn 1.35", "undetermined bound-not-decisive"],
    ["Mn 1.36", "fail"], // above the ceiling for any carbon
    ["Mn 1.26, C 0.29, C 0.30", "undetermined bound-not-decisive"],
  ])("%s: %s", (text, outcome) => {
    expect(outcomesOf(judged(manganese, analysed(text)))).toEqual([outcome]);
  });
});

describe("the unit of the limit", () => {
  const nitrogen = appliedLimit({ quantity: "N", max: "700", unit: "ppm" });
  it.each([
    ["N 0.0699", "pass"],
    ["N 0.0700", "pass"],
    ["N 0.07005", "pass"], // 700.5 ppm, halfway between 700 and 701: to the even one
    ["N 0.0701", "fail"],
    ["N 0.080", "fail"],
  ])("%s %% against 700 ppm: %s", (text, outcome) => {
    expect(outcomesOf(judged(nitrogen, analysed(text)))).toEqual([outcome]);
  });

  it("holds for sums as well", () => {
    const sum = appliedLimit({ quantity: "As", sumOf: ["As", "Sn"], max: "100", unit: "ppm" });
    expect(outcomesOf(judged(sum, analysed("As 0.005, Sn 0.005")))).toEqual(["pass"]);
    expect(outcomesOf(judged(sum, analysed("As 0.005, Sn 0.006")))).toEqual(["fail"]);
  });
});

describe("a sum of several prints or determinations", () => {
  const sum = appliedLimit({ quantity: "Cr", sumOf: ["Cr", "Mo"], max: "0.32" });
  it.each([
    ["Cr 0.30, Mo 0.02, Mo 0.021", "heat", "fail"], // the finer print of one analysis counts: 0.321
    ["Cr 0.30, Mo 0.02, Mo 0.020", "heat", "pass"],
    ["Cr 0.30, Mo 0.02, Mo 0.03", "heat", "undetermined bound-not-decisive"], // they contradict each other
    ["Cr 0.30, Mo 0.03, Mo 0.04", "heat", "fail"],
    ["Cr 0.30, Mo 0.02, Mo <0.05", "heat", "pass"], // the bound says less than the value
    ["Cr 0.28, Cr 0.30, Mo 0.02", "product", "pass"],
    ["Cr 0.28, Cr 0.30, Mo 0.03", "product", "undetermined bound-not-decisive"],
    ["Cr 0.30, Cr 0.31, Mo 0.03", "product", "fail"],
  ] as const)("%s (%s): %s", (text, analysis, outcome) => {
    const applied = { ...sum, rounding: "absolute" as const, limit: { ...sum.limit, analysis } };
    const readings = analysed(text, analysis);
    expect(outcomesOf(judged(applied, readings))).toEqual([outcome]);
    expect(outcomesOf(judged(applied, [...readings].reverse()))).toEqual([outcome]);
  });
});

describe("a product limit", () => {
  it("of a standard holds where a product analysis is made, one of the project wants one", () => {
    const standard = appliedLimit({ quantity: "C", max: "0.030", analysis: "product" });
    const { holder: _, ...project } = standard;
    expect(outcomesOf(judged(standard, analysed("C 0.021")))).toEqual([]);
    expect(outcomesOf(judged(project, analysed("C 0.021")))).toEqual(["undetermined not-reported"]);
    expect(outcomesOf(judged(project, analysed("C 0.021", "product")))).toEqual(["pass"]);
  });
});

describe("the zone of a limit", () => {
  it("asks for the analysis of that zone", () => {
    const weld = appliedLimit({ quantity: "C", max: "0.030", when: { zone: "weld" } });
    const ofWeld = analysed("C 0.031").map((item) => ({ ...item, zone: "weld" as const }));
    expect(outcomesOf(judged(weld, analysed("C 0.021")))).toEqual(["undetermined not-reported"]);
    expect(outcomesOf(judged(weld, [...analysed("C 0.021"), ...ofWeld]))).toEqual(["fail"]);
    const base = appliedLimit({ quantity: "C", max: "0.030" });
    expect(outcomesOf(judged(base, [...analysed("C 0.021"), ...ofWeld]))).toEqual(["pass"]);
  });
});

describe("what is not there or not sure", () => {
  const carbon = appliedLimit({ quantity: "C", max: "0.030" });

  it("keeps the doubt about the very quantity as the reason", () => {
    const withDoubt = (code: string, quantity: string) =>
      judgeLimit(carbon, evidenceOf([], { doubts: [{ code, message: "0.021 stands without a unit.", quantity }] }))[0];
    expect(withDoubt("unit-unknown", "C")).toMatchObject({
      reason: "unit-unknown",
      says: { code: "doubted", doubt: "0.021 stands without a unit." },
    });
    expect(withDoubt("not-a-number", "C")).toMatchObject({ reason: "low-confidence" });
    expect(withDoubt("unit-unknown", "Mn")).toMatchObject({ reason: "not-reported", says: { code: "not-reported" } });
  });

  it("takes a value whose unit is no share of mass for not reported", () => {
    expect(outcomesOf(judged(carbon, [reading("C", "0.021 MPa")]))).toEqual(["undetermined not-reported"]);
  });

  it("asks only for a report where the standard sets no bound", () => {
    const reported = appliedLimit({ quantity: "N", reportOnly: true });
    expect(judged(reported, analysed("N 0.900"))).toMatchObject([
      { outcome: "pass", says: { code: "reported" }, readings: [{ id: 1 }] },
    ]);
    expect(outcomesOf(judged(reported, []))).toEqual(["undetermined not-reported"]);
  });

  it.each([
    [0.85, "pass"],
    [0.849, "undetermined low-confidence"],
  ])("a reading of confidence %f: %s", (confidence, outcome) => {
    expect(outcomesOf(judged(carbon, [reading("C", "0.021", { confidence })]))).toEqual([outcome]);
  });
});
