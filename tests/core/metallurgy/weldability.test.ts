import { describe, expect, it } from "vitest";
import { describeHint } from "../../../core/metallurgy/describe-hint.js";
import { weldabilityHints } from "../../../core/metallurgy/weldability.js";
import { decimal } from "../../../core/quantity/decimal.js";
import { ANALYSES, analysis } from "./analysis.js";

const sensitisation = (text: string) =>
  weldabilityHints(analysis(`Cr 18, Ni 9, ${text}`)).find((hint) => hint.code === "sensitisation");
const martensite = (chemistry: Parameters<typeof weldabilityHints>[0], temperatureC: string) =>
  weldabilityHints(chemistry, decimal(temperatureC)).find((hint) => hint.code === "martensite");

describe("sensitisation", () => {
  it.each([
    ["C 0.030", "low"],
    ["C 0.031", "raised"],
    ["C 0.08", "raised"],
    ["C 0.081", "high"],
    ["C <0.03", "low"],
    ["C <0.05", "raised"],
    ["C 0.05, Nb 0.388", "stabilised"],
    ["C 0.05, Nb 0.387", "raised"],
    ["C 0.05, Ti 0.2342, N 0.010", "stabilised"],
    ["C 0.05, Ti 0.2341, N 0.010", "raised"],
  ])("%s: %s", (text, concern) => {
    expect(sensitisation(text)).toMatchObject({ concern });
  });

  it("says nothing where carbon is not reported or has no upper bound", () => {
    expect(sensitisation("Mn 1")).toBeUndefined();
    expect(sensitisation("C >0.02")).toBeUndefined();
  });
});

describe("martensite at the service temperature", () => {
  it.each([
    ["301", "-196", "at room temperature"],
    ["304", "-196", "expected"],
    ["304", "0", "possible"], // Md30 19 °C by Angel, -11 °C by Nohara
    ["304", "20", "unlikely"],
    ["310", "-150", "unlikely"],
    ["310", "-196", "possible"],
  ] as const)("%s at %s °C: %s", (grade, temperature, tendency) => {
    expect(martensite(ANALYSES[grade], temperature)).toMatchObject({ tendency });
  });

  it("counts a service temperature on Md30 as reached", () => {
    // Md30 of the 304 above: 19.1 °C by Angel, -10.55 °C by Nohara.
    expect(martensite(ANALYSES["304"], "19.1")).toMatchObject({ tendency: "possible" });
    expect(martensite(ANALYSES["304"], "19.2")).toMatchObject({ tendency: "unlikely" });
    expect(martensite(ANALYSES["304"], "-10.55")).toMatchObject({ tendency: "expected" });
    expect(martensite(ANALYSES["304"], "-10.54")).toMatchObject({ tendency: "possible" });
  });

  it("knows no sign where an interval spans it", () => {
    const spanning = analysis("C <0.08, Si 0.3, Mn 0.8, Cr 16.5, Ni 8.0, N 0.02");
    expect(martensite(spanning, "-196")).toMatchObject({ onCooling: "not known" });
  });

  it("takes only the sign from Eichelmann and Hull", () => {
    expect(martensite(ANALYSES["304"], "-196")).toMatchObject({ onCooling: "not on cooling to room temperature" });
    const lean = analysis("C 0.02, Si 0.3, Mn 0.8, Cr 16.5, Ni 6.5, N 0.02");
    expect(martensite(lean, "-196")).toMatchObject({ onCooling: "likely" });
  });

  it("needs nitrogen, and a service temperature", () => {
    expect(martensite(analysis("C 0.02, Si 0.5, Mn 1, Cr 18, Ni 9"), "-196")).toBeUndefined();
    expect(weldabilityHints(ANALYSES["304"]).map((hint) => hint.code)).toEqual(["sensitisation", "solidification"]);
  });
});

describe("which metals get hints", () => {
  it("is those with the chromium and nickel of austenitic stainless steel", () => {
    expect(weldabilityHints(analysis("C 0.02, Cr 15.9, Ni 9"))).toEqual([]);
    expect(weldabilityHints(analysis("C 0.02, Cr 17, Ni 5.9"))).toEqual([]);
    expect(weldabilityHints(analysis("C 0.07, Ni 9.2"))).toEqual([]);
    expect(weldabilityHints(analysis("C 0.02, Cr 16.0, Ni 6.0"))).toHaveLength(1);
  });
});

describe("the words", () => {
  it("give the numbers and what they rest on", () => {
    const [carbon, strain, weld] = weldabilityHints(ANALYSES["304"], decimal("-196")).map(describeHint);
    expect(carbon!.message).toBe(
      "Carbon 0.05 % is above the 0.030 % of low-carbon grades: heavy sections and repeated passes can sensitise the heat-affected zone.",
    );
    expect(strain!.message).toBe("At -196 °C martensite forms under strain (Md30 19 °C by Angel, -11 °C by Nohara).");
    expect(weld!.message).toBe("Without filler this heat solidifies as primary ferrite (Creq/Nieq 1.77).");
    for (const { restsOn } of [carbon!, strain!, weld!]) expect(restsOn).toMatch(/\.$/);
  });

  it("warns of hot cracking for primary austenite and of cooling for positive Ms", () => {
    const [, , weld] = weldabilityHints(ANALYSES["310"], decimal("-196")).map(describeHint);
    expect(weld!.message).toContain("primary austenite (Creq/Nieq 1.16): mind hot cracking");
    const lean = analysis("C 0.02, Si 0.3, Mn 0.8, Cr 16.5, Ni 6.5, N 0.02");
    expect(
      weldabilityHints(lean, decimal("-196"))
        .map((hint) => describeHint(hint).message)
        .join(" "),
    ).toContain("it forms on cooling as well");
  });
});
