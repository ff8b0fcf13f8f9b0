import { describe, expect, it } from "vitest";
import { applyConfirmations, type Confirmation, statesValue } from "../../../core/grades/confirmation.js";
import type { Library, Limit } from "../../../core/grades/grade.js";
import { limitText } from "../../../core/grades/limit-text.js";

const elongation: Limit = {
  id: "A50",
  quantity: "A50",
  unit: "%",
  min: "40",
  source: { clause: "Table 2" },
  known: { how: "memory", sources: 0, conflict: "35 in one table" },
};
const titanium: Limit = {
  id: "Ti",
  quantity: "Ti",
  analysis: "heat",
  unit: "%",
  max: "0.70",
  minFrom: { times: "5", of: ["C", "N"] },
  source: { clause: "Table 1" },
  known: { how: "memory", sources: 0 },
};
const plate: Limit = {
  id: "Rm.plate",
  quantity: "Rm",
  unit: "MPa",
  min: "485",
  max: "620",
  inchPound: { unit: "ksi", min: "70", max: "90" },
  when: { form: ["plate"], thickness: { over: "6", upTo: "50" }, orientation: "transverse" },
  source: { clause: "Table 2" },
  known: { how: "seen", sources: 1 },
};

function libraryOf(...limits: Limit[]): Library {
  const grade = {
    id: "ours/2020/x",
    standard: "Tarnholm 12",
    edition: { name: "2020" },
    name: "X",
    designations: ["X"],
    forms: ["plate"],
    rounding: "absolute" as const,
    limits,
  };
  return { grades: [{ grade, digest: "sha256:0" }], tolerances: [] };
}

const confirmation: Confirmation = {
  limit: "ours/2020/x#A50",
  value: "A50 min 40 %",
  by: "N. Brandt",
  on: "2026-11-20",
  document: "own copy no. 3, Table 2",
};

describe("a limit in one line", () => {
  it.each([
    [elongation, "A50 min 40 %"],
    [titanium, "Ti min 5 x (C+N) max 0.70 %, heat analysis"],
    [plate, "Rm min 485 max 620 MPa (min 70 max 90 ksi), form plate, thickness over 6 up to 50 mm, transverse"],
    [
      {
        ...elongation,
        quantity: "KV",
        unit: "J",
        min: "60",
        impact: { temperature: "-196", rule: "EN 10021" },
      } as Limit,
      "KV min 60 J, at -196 °C by the rule EN 10021",
    ],
    [
      {
        ...titanium,
        minFrom: { times: "4", of: ["C", "N"], plus: "0.15" },
        maxFrom: { times: "10", of: ["C"] },
      } as Limit,
      "Ti min 0.15 + 4 x (C+N) max 10 x (C) max 0.70 %, heat analysis",
    ],
    [{ ...elongation, quantity: "FN", unit: "1", min: "3", max: "8" } as Limit, "FN min 3 max 8"],
    [
      { ...titanium, minFrom: undefined, max: undefined, reportOnly: true } as unknown as Limit,
      "Ti to be reported %, heat analysis",
    ],
    [
      {
        ...titanium,
        quantity: "Mn",
        minFrom: undefined,
        max: "1.20",
        tradeOff: { element: "C", below: "0.30", step: "0.01", raises: "0.06", ceiling: "1.35" },
      } as unknown as Limit,
      "Mn max 1.20 %, max raised by 0.06 for each 0.01 C below 0.30, up to 1.35, heat analysis",
    ],
    [
      {
        ...elongation,
        when: {
          form: ["plate", "sheet"],
          thickness: { from: "3", under: "8" },
          condition: ["annealed", "1/4 hard"],
          zone: "weld",
        },
      } as Limit,
      "A50 min 40 %, form plate or sheet, thickness from 3 under 8 mm, condition annealed or 1/4 hard, zone weld",
    ],
    [
      {
        ...elongation,
        quantity: "KV",
        unit: "J",
        impact: { temperature: "-196", rule: "EN 10021", single: "28" },
      } as Limit,
      "KV min 40 J, at -196 °C by the rule EN 10021, single min 28",
    ],
    [{ ...titanium, minFrom: undefined, sumOf: ["Ti", "Nb"] } as unknown as Limit, "Ti+Nb max 0.70 %, heat analysis"],
  ])("%#", (limit, text) => {
    expect(limitText(limit)).toBe(text);
  });
});

describe("confirming a limit", () => {
  it("makes exactly that limit the user's, with who, when and against what", () => {
    const { library, faults } = applyConfirmations(libraryOf(elongation, titanium), {
      confirmations: 1,
      limits: [confirmation],
    });
    expect(faults).toEqual([]);
    expect(library.grades[0]!.grade.limits.map(({ known }) => known)).toEqual([
      {
        how: "user",
        sources: 0,
        confirmed: { by: "N. Brandt", on: "2026-11-20", document: "own copy no. 3, Table 2" },
      },
      { how: "memory", sources: 0 },
    ]);
  });

  it.each([
    ["the value", { ...elongation, min: "45" }],
    ["the digits", { ...elongation, min: "40.0" }],
    ["the side", { ...elongation, min: undefined, max: "40" } as unknown as Limit],
    ["a condition", { ...elongation, when: { form: ["plate"] } }],
  ])("refuses when %s has changed since", (_, changed) => {
    const { library, faults } = applyConfirmations(libraryOf(changed), { confirmations: 1, limits: [confirmation] });
    expect(faults).toMatchObject([{ at: 0, field: "value" }]);
    expect(library.grades[0]!.grade.limits[0]!.known.how).toBe("memory");
  });

  it("refuses what is not in the library", () => {
    const limits = [
      { ...confirmation, limit: "ours/2020/x#Z" },
      { ...confirmation, limit: "theirs/2020/x#A50" },
    ];
    const { faults } = applyConfirmations(libraryOf(elongation), { confirmations: 1, limits });
    expect(faults.map(({ at, field }) => [at, field])).toEqual([
      [0, "limit"],
      [1, "limit"],
    ]);
  });
});

describe("stating the value of a limit", () => {
  it.each([
    [elongation, "40", true],
    [elongation, "min 40 %", true],
    [elongation, "40.0", false],
    [elongation, "45", false],
    [elongation, "", false],
    [plate, "485-620", false],
    [plate, "485 620", true],
    [plate, "485", false],
    [titanium, "5 0.70", true],
    [titanium, "0.70", false],
  ])("%# %s: %s", (limit, stated, is) => {
    expect(statesValue(limit, stated)).toBe(is);
  });
});
