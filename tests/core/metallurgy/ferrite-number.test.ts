import { describe, expect, it } from "vitest";
import { FN_WRC_1992 } from "../../../core/metallurgy/ferrite-number.js";
import { ferriteByFit, ferriteByNetwork, ferriteByStraightPieces } from "../../../core/metallurgy/ferrite-routes.js";
import { formula } from "../../../core/metallurgy/formulas.js";
import { formatDecimal, toNumber } from "../../../core/quantity/decimal.js";
import { ANALYSES, analysis } from "./analysis.js";

const WELD = "C 0.03, Si 0.5, Mn 1.8, Cr 20.0, Ni 10.0, Mo 0.1, Cu 0.1, N 0.05";

function compute(text: string) {
  const result = FN_WRC_1992.compute(analysis(text));
  if (result.kind !== "value") return result;
  return {
    ...result,
    value: formatDecimal(result.value),
    low: result.low && toNumber(result.low),
    high: result.high && toNumber(result.high),
  };
}

describe("Ferrite Number from chemistry", () => {
  it("gives the fit and at least 2 FN either way", () => {
    expect(compute(`${WELD}, Nb 0`)).toMatchObject({ value: "8.3", low: 6.28, high: 10.28, notReported: [] });
  });

  it("is as uncertain as its routes disagree", () => {
    // 304L plate: fit 7.4, network 8.9, straight pieces 6.6 are within 2; more nitrogen splits them.
    const leanWeld = compute("C 0.02, Si 0.4, Mn 1.5, Cr 24.0, Ni 12.0, Mo 0.1, Cu 0.1, N 0.05, Nb 0");
    if (leanWeld.kind !== "value") throw new Error("expected a value");
    expect(leanWeld.high! - leanWeld.low!).toBeGreaterThan(4);
    expect(leanWeld.cautions[0]).toMatch(/^routes differ: \d/);
  });

  it("is known from one side where niobium, molybdenum or copper is not reported", () => {
    expect(compute(WELD)).toMatchObject({ low: 6.28, high: undefined, notReported: ["Nb"] });
    expect(compute("C 0.03, Cr 20, Ni 10, N 0.05, Mo 0.1, Nb 0")).toMatchObject({
      low: 0,
      notReported: ["Cu"],
    });
  });

  it("never falls below zero and says where the fit ends", () => {
    const low = compute("C 0.02, Si 0.4, Mn 1.7, Cr 17.7, Ni 13.0, Mo 2.5, Cu 0.1, N 0.05, Nb 0");
    expect(low).toMatchObject({
      kind: "value",
      low: 0,
      cautions: [expect.anything(), expect.stringContaining("2 FN")],
    });
  });

  it("refuses outside the axes of the diagram", () => {
    expect(FN_WRC_1992.compute(ANALYSES["310"])).toMatchObject({
      kind: "outside-range",
      because: expect.stringContaining("Creq 25.00, Nieq 22.35 is outside the WRC-1992 diagram"),
    });
    expect(compute("C 0.02, Cr 17.0, Ni 9.0, N 0.05")).toMatchObject({ kind: "value" });
    expect(compute("C 0.02, Cr 16.9, Ni 9.0, N 0.05")).toMatchObject({ kind: "outside-range" });
    expect(compute("C 0.02, Cr 28.0, Ni 9.0, N 0.05")).toMatchObject({ kind: "outside-range" });
  });

  it("takes a nitrogen that was not measured from the process, where a limit asks for that", () => {
    const without = analysis("C 0.03, Cr 20.0, Ni 10.0, Mo 0.1, Cu 0.1, Nb 0");
    const gmaw = formula("FN (WRC-1992, GMAW)")!;
    expect(gmaw.needs).not.toContain("N");
    const assumed = gmaw.compute(without);
    expect(assumed).toMatchObject({ cautions: ["nitrogen not measured, taken as 0.08 %", expect.anything()] });
    expect(gmaw.compute(analysis(`${WELD}, Nb 0`))).toEqual(FN_WRC_1992.compute(analysis(`${WELD}, Nb 0`)));
    const values = ["self-shielded FCAW", "GMAW", "other process"].map((process) => {
      const result = formula(`FN (WRC-1992, ${process})`)!.compute(without);
      return result.kind === "value" ? toNumber(result.value) : Number.NaN;
    });
    // More nitrogen, less ferrite: 0.12, 0.08, 0.06 %.
    expect(values).toEqual([...values].sort((left, right) => left - right));
    expect(gmaw.compute(analysis("C 0.03, Cr 20.0"))).toEqual({ kind: "missing", missing: ["Ni"] });
  });

  it("needs nitrogen, and knows the most that it can be without it", () => {
    expect(compute("C 0.02, Cr 18.0, Ni 9.0")).toEqual({ kind: "missing", missing: ["N"] });
    const rest = "C 0.02, Cr 18.0, Ni 10.0, Mo 0.1, Cu 0.1, Nb 0";
    const without = FN_WRC_1992.compute(analysis(rest));
    const withNone = FN_WRC_1992.compute(analysis(`${rest}, N 0`));
    expect(without).toMatchObject({ kind: "missing", missing: ["N"] });
    expect("high" in without && without.high).toEqual("high" in withNone && withNone.high);
    expect(without).not.toHaveProperty("low");
    expect(FN_WRC_1992.compute(analysis("C 0.02, N 0.05, Ni 10.0, Mo 0.1, Cu 0.1, Nb 0"))).toEqual({
      kind: "missing",
      missing: ["Cr"],
    });
  });
});

describe("the routes", () => {
  it("do not answer outside their own range", () => {
    expect(ferriteByFit(17, 9)).toBeDefined();
    expect(ferriteByFit(16.99, 9)).toBeUndefined();
    expect(ferriteByFit(31, 18.01)).toBeUndefined();
    expect(ferriteByNetwork(analysis(`${WELD}, V 0.92`))).toBeDefined();
    expect(ferriteByNetwork(analysis(`${WELD}, V 0.93`))).toBeUndefined();
    expect(ferriteByStraightPieces(analysis("C 0.02, Si 0.4, Mn 1, Cr 22, Ni 5.5, Mo 3, N 0.16"))).toBeUndefined();
    expect(ferriteByStraightPieces(ANALYSES["310"])).toBe(0);
  });

  // Recomputed by hand from the three pieces and their own equivalents: below 6, from 6 to 12, above.
  it.each([
    ["C 0.02, Si 0.4, Mn 1.7, Cr 18.5, Ni 13.0, Mo 2.5, Cu 0.2, N 0.05", 3.34 * 21.6 - 2.46 * 16.05 - 28.6],
    ["C 0.02, Si 0.4, Mn 1.7, Cr 18.5, Ni 12.0, Mo 2.5, Cu 0.2, N 0.05", 4.44 * 21.6 - 3.39 * 15.05 - 38.4],
    [
      "C 0.02, Si 0.4, Mn 1.7, Cr 19.4, Ni 10.0, Mo 2.5, Cu 0.2, N 0.05, Ti 0.05, Nb 0.1",
      4.06 * 22.65 - 3.23 * 13.05 - 32.2,
    ],
  ])("straight pieces for %s", (text, expected) => {
    expect(ferriteByStraightPieces(analysis(text))).toBeCloseTo(expected, 9);
  });
});
