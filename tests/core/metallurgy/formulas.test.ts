import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Chemistry } from "../../../core/metallurgy/chemistry.js";
import { FORMULAS, formula, formulasOf, usualFormula } from "../../../core/metallurgy/formulas.js";
import { compare, decimal, formatDecimal } from "../../../core/quantity/decimal.js";
import { ELEMENTS } from "../../../core/quantity/quantity.js";
import { ANALYSES, analysis } from "./analysis.js";

function compute(name: string, chemistry: Chemistry) {
  const result = formula(name)!.compute(chemistry);
  if (result.kind !== "value") return result;
  const end = (value: typeof result.low) => (value ? formatDecimal(value) : "open");
  return { ...result, value: formatDecimal(result.value), low: end(result.low), high: end(result.high) };
}

const CARBON_STEEL = "C 0.16, Si 0.35, Mn 1.45, Cr 0.08, Mo 0.02, V 0.005, Ni 0.06, Cu 0.10";

describe("formulas by name", () => {
  it.each([
    ["CE (IIW)", "CE (IIW)"],
    ["ce(iiw)", "CE (IIW)"],
    ["CEV", "CE (IIW)"],
    ["C+Mn/6+(Cr+Mo+V)/5+(Ni+Cu)/15", "CE (IIW)"],
    ["C+Si/30+(Mn+Cu+Cr)/20+Ni/60+Mo/15+V/10+5B", "Pcm"],
    ["PREN16", "PREN (16 N)"],
    ["Creq (Hammar–Svensson)", "Creq (Hammar-Svensson)"],
    ["fn (wrc-1992)", "FN (WRC-1992)"],
  ])("%s is %s", (name, found) => {
    expect(formula(name)?.name).toBe(found);
  });

  it("knows no others, and no name twice", () => {
    expect(formula("PREN (17 N)")).toBeUndefined();
    expect(formula("Md30")).toBeUndefined();
    const names = FORMULAS.flatMap(({ name, aliases }) => [name, ...aliases]).map((name) =>
      name.toLowerCase().replace(/\s/g, ""),
    );
    expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([]);
    for (const { name } of FORMULAS) expect(name.length).toBeLessThanOrEqual(40);
  });

  it("has a usual one only where one is usual", () => {
    expect(usualFormula("CE")?.name).toBe("CE (IIW)");
    expect(usualFormula("PREN")?.name).toBe("PREN (16 N)");
    expect(usualFormula("FN")?.name).toBe("FN (WRC-1992)");
    expect(usualFormula("Md30")).toBeUndefined();
    expect(usualFormula("Creq")).toBeUndefined();
    expect(formulasOf("Md30").map(({ name }) => name)).toEqual(["Md30 (Angel)", "Md30 (Nohara)", "Md30 (Nohara, G 8)"]);
  });
});

describe("a weighted sum", () => {
  it("is exact where it comes out even and far finer than printed where not", () => {
    expect(compute("PREN (16 N)", ANALYSES["304L"])).toMatchObject({ value: "19.98", low: "19.98", high: "19.98" });
    // 0.16 + 1.45/6 + 0.105/5 + 0.16/15 = 0.43333…
    expect(compute("CE (IIW)", analysis(CARBON_STEEL))).toMatchObject({ value: "0.433333333333333" });
    expect(compute("CE (IIW)", analysis("C 0.2, Mn 0.6, Cr 0, Mo 0, V 0, Ni 0, Cu 0"))).toMatchObject({
      value: "0.30",
    });
  });

  it("names what is missing and takes nothing for zero", () => {
    expect(compute("Md30 (Nohara)", ANALYSES["304"])).toEqual({ kind: "missing", missing: ["G"] });
  });

  // Contents are not below zero, so what is missing moves each result to one side only.
  it.each([
    // 0.16 + 1.44/6 + 0.08/5 + (0.06 + 0.09)/15 = 0.426
    ["CE (IIW)", "C 0.16, Mn 1.44, Cr 0.08, Ni 0.06, Cu 0.09", ["Mo", "V"], { low: "0.426" }],
    // 0.12 + 1.5 (0.24/24 + 1.2/6 + …): the factor of carbon is 0.75 at 0.12 %, 0.75 x 0.21 = 0.1575.
    ["CEN", "C 0.12, Si 0.24, Mn 1.2", ["Cu", "Ni", "Cr", "Mo", "V"], { low: "0.277500" }],
    ["Pcm", "C 0.10, Si <0.30", ["Mn", "Cu", "Cr", "Ni", "Mo", "V"], { low: "0.100" }],
    // 413 - 13.7 x 18 - 9.5 x 9 = 80.9
    ["Md30 (Angel)", "Cr 18, Ni 9", ["C", "N", "Si", "Mn"], { high: "80.9" }],
    // The lower bound of the constant alone, -53 + 6.2 x 10.
    ["SFE (Schramm-Reed)", "Ni 10", ["Cr", "Mn"], { low: "9" }],
    ["Ti/(C+N)", "Ti 0.20, C 0.05", ["N"], { high: "4.0" }],
    ["Ti/(C+N)", "C 0.05, N 0.01", ["Ti"], { low: "0.0" }],
    ["Ti/C", "Ti 0.20", ["C"], {}],
    // Titanium raises it, nitrogen lowers it.
    ["Ti - 3.42 N - 4 C", "Ti 0.20, C 0.01", ["N"], { high: "0.16" }],
    ["Ti - 3.42 N - 4 C", "N 0.01, C 0.01", ["Ti"], { low: "-0.0742" }],
    ["Ti - 3.42 N - 4 C", "C 0.01", ["Ti", "N"], {}],
  ] as const)("%s of %s: what is missing leaves one end known", (name, text, missing, ends) => {
    const result = formula(name)!.compute(analysis(text));
    if (result.kind !== "missing") throw new Error(`nothing is missing, but: ${result.kind}`);
    expect([...result.missing].sort()).toEqual([...missing].sort());
    const { low, high } = result;
    const found = { ...(low && { low: formatDecimal(low) }), ...(high && { high: formatDecimal(high) }) };
    expect(found).toEqual(ends);
  });

  it("carries bounds as an interval", () => {
    expect(compute("PREN (16 N)", analysis("Cr 18.0, Mo <0.10, N 0.05"))).toMatchObject({
      low: "18.8",
      value: "19.13",
      high: "19.13",
      bounded: ["Mo"],
    });
    expect(compute("Md30 (Angel)", analysis("C <0.01, N 0.05, Si 0.5, Mn 1, Cr 18, Ni 8, Mo 0.1"))).toMatchObject({
      low: "48.13",
      high: "52.75",
    });
    expect(compute("PREN (16 N)", analysis("Cr >18.0, Mo 0.10, N 0.05"))).toMatchObject({ low: "19.13", high: "open" });
  });

  it("is open on the side that an optional element, not reported, would move it to", () => {
    expect(compute("PREN (16 N)", analysis("Cr 18.0, N 0.05"))).toMatchObject({
      low: "18.8",
      value: "18.8",
      high: "open",
      notReported: ["Mo"],
    });
    expect(compute("Md30 (Angel)", ANALYSES["310"])).toMatchObject({ low: "open", high: "-172.29" });
  });

  it("gives nothing where neither end is known", () => {
    expect(compute("Ti - 3.42 N - 4 C", analysis("Ti >0.3, N 0.01, C >0.02"))).toEqual({
      kind: "outside-range",
      because: "neither end is known: Ti, C not reported, or only as a bound",
    });
    expect(compute("Creq/Nieq (Hammar-Svensson)", analysis("Cr 18, Si 0.5, Ni 9, Mn 1, C 0.02, N 0.05"))).toMatchObject(
      {
        low: "0",
        high: "open",
      },
    );
  });

  it("warns outside the range that it was made for", () => {
    const nickelSteel = analysis("C 0.07, Si 0.25, Mn 0.6, Ni 9.2, Cr 0.05, Mo 0.02, Cu 0.05, V 0");
    for (const name of ["CE (IIW)", "Pcm", "CET", "CEN"]) {
      const result = compute(name, nickelSteel);
      expect(result).toMatchObject({ kind: "value", cautions: [expect.stringMatching(/^Ni 9\.2 % is outside/)] });
    }
    expect(compute("CET", analysis(CARBON_STEEL))).toMatchObject({ cautions: [] });
  });

  it.each([
    ["C 0.05, Mn 0.5", []],
    ["C 0.049, Mn 0.5", ["C 0.049 % is outside the range of the formula, 0.05 to 0.32 %"]],
    ["C 0.32, Mn 1.9", []],
    [
      "C 0.321, Mn 1.91",
      [
        "C 0.321 % is outside the range of the formula, 0.05 to 0.32 %",
        "Mn 1.91 % is outside the range of the formula, 0.5 to 1.9 %",
      ],
    ],
    ["C 0.2, Mn 1, Nb <0.10", []],
    ["C 0.2, Mn 1, Nb >0.06", []],
    ["C 0.2, Mn 1, Nb 0.061", ["Nb 0.061 % is outside the range of the formula, up to 0.06 %"]],
  ])("knows for CET and %s: %o", (text, cautions) => {
    expect(compute("CET", analysis(`${text}, Mo 0, Cr 0, Cu 0, Ni 0`))).toMatchObject({ cautions });
  });

  it("marks ranges that are recalled", () => {
    expect(compute("CE (CSA Z245.1)", analysis("C 0.2, Si 0, Mn 1, Mo 0, Cr 0, Cu 0, Ni 0, V 0"))).toMatchObject({
      cautions: ["C 0.2 % is outside the range of the formula, from 0.22 % (range from memory)"],
    });
  });

  it("takes grain size as one more ingredient", () => {
    const fine = new Map(ANALYSES["304"]).set("G", { value: decimal("10") });
    const same = new Map(ANALYSES["304"]).set("G", { value: decimal("8") });
    expect(compute("Md30 (Nohara)", same)).toMatchObject({ value: "-10.55" });
    expect(compute("Md30 (Nohara)", fine)).toMatchObject({ value: "-13.39" });
    expect(compute("Md30 (Nohara, G 8)", ANALYSES["304"])).toMatchObject({ value: "-10.55" });
  });
});

describe("a ratio", () => {
  it("is open where its divisor may be zero", () => {
    expect(compute("Mn/S", analysis("Mn 1.5, S 0.003"))).toMatchObject({ value: "500.0", low: "500.0", high: "500.0" });
    expect(compute("Mn/S", analysis("Mn 1.5, S <0.003"))).toMatchObject({ low: "500.0", high: "open" });
    expect(compute("Mn/S", analysis("Mn 1.5, S 0"))).toMatchObject({ kind: "outside-range" });
    expect(compute("Mn/S", analysis("Mn 1.5"))).toEqual({ kind: "missing", missing: ["S"] });
  });

  it("falls when its divisor grows", () => {
    expect(compute("Ti/(C+N)", analysis("Ti 0.25, C 0.04, N 0.010"))).toMatchObject({ value: "5.0" });
    expect(compute("Ti/(C+N)", analysis("Ti 0.25, C 0.04, N 0.011"))).toMatchObject({ low: "4.901960784314" });
    expect(compute("Ti/(C+N)", analysis("Ti 0.25, C <0.04, N 0.010"))).toMatchObject({ low: "5.0", high: "25.0" });
  });
});

describe("CEN", () => {
  it("carries bounds through its hyperbolic factor", () => {
    expect(compute("CEN", analysis(`${CARBON_STEEL}, Nb 0.03, B 0`))).toMatchObject({
      low: "0.428314",
      high: "0.428314",
    });
    const open = compute("CEN", analysis(CARBON_STEEL));
    expect(open).toMatchObject({ low: "0.422818", value: "0.422818", high: "open", notReported: ["Nb", "B"] });
  });
});

describe("properties of every formula", () => {
  const content = fc.tuple(fc.integer({ min: 1, max: 30000 }), fc.constantFrom(undefined, "<", ">"), fc.boolean());
  const entries = fc.tuple(...[...ELEMENTS.slice(0, 16), "B", "G"].map((of) => fc.tuple(fc.constant(of), content)));

  it.each(FORMULAS.map((known) => [known.name, known] as const))("%s lies in its interval", (_, known) => {
    fc.assert(
      fc.property(entries, (drawn) => {
        const chemistry = new Map(
          drawn
            .filter(([, [, , reported]]) => reported)
            .map(([of, [digits, bound]]) => [
              of,
              { value: { digits: BigInt(digits), places: 3 }, ...(bound && { bound }) },
            ]),
        ) as Chemistry;
        const result = known.compute(chemistry);
        if (result.kind !== "value") return;
        if (result.low) expect(compare(result.low, result.value)).toBeLessThanOrEqual(0);
        if (result.high) expect(compare(result.value, result.high)).toBeLessThanOrEqual(0);
        expect(result.low !== undefined || result.high !== undefined).toBe(true);
        const exact = result.notReported.length === 0 && result.bounded.length === 0;
        if (exact) expect(result.low !== undefined && result.high !== undefined).toBe(true);
      }),
      { numRuns: 60 },
    );
  });
});
