import { describe, expect, it } from "vitest";
import { requirementSchema } from "../../../core/requirement/requirement.js";

function refusals(limit: object): string[] {
  const parsed = requirementSchema.safeParse({ requirement: 1, name: "T-204", limits: [limit] });
  return parsed.success ? [] : parsed.error.issues.map(({ path, message }) => `${String(path.at(-1))} ${message}`);
}

describe("a project's limit that says nothing that could be judged", () => {
  it.each([
    [{ quantity: "C", max: "0.025", unit: "%" }, []],
    [{ quantity: "C", max: "250", unit: "ppm", analysis: "product" }, []],
    [{ quantity: "C", max: "0.025", unit: "MPa" }, ["unit is no unit of C"]],
    [{ quantity: "Rm", min: "485", unit: "MPa", zone: "weld" }, []],
    [{ quantity: "Rm", min: "485", unit: "MPa", analysis: "heat" }, ["analysis Rm is not from an analysis"]],
    [{ quantity: "Cr", min: "18.0", max: "18.0", unit: "%" }, []],
    [{ quantity: "Cr", min: "18.1", max: "18.0", unit: "%" }, ["min is above max"]],
    [{ quantity: "C", min: "", max: "0.030", unit: "%" }, ["min not a decimal number"]],
    [{ quantity: "KV", min: "60", unit: "J" }, ["quantity belongs under impact, with its temperature and zone"]],
    [{ quantity: "LE", min: "0.38", unit: "mm" }, ["quantity belongs under impact, with its temperature and zone"]],
    [{ quantity: "PREN", min: "24", unit: "1" }, []],
    [{ quantity: "PREN", min: "24", unit: "1", formula: "PREN (30 N)" }, []],
    [{ quantity: "PREN", min: "24", unit: "1", formula: "PREN (17 N)" }, ["formula is not a known formula"]],
    [{ quantity: "PREN", min: "24", unit: "1", formula: "Pcm" }, ["formula does not compute PREN"]],
    [{ quantity: "Md30", max: "0", unit: "°C" }, ["formula is needed: formulas for Md30 contradict each other"]],
    [{ quantity: "Md30", max: "0", unit: "°C", formula: "Md30 (Angel)" }, []],
    [{ quantity: "Md30", max: "0", unit: "1", formula: "Md30 (Angel)" }, ["unit is no unit of Md30 (Angel)"]],
    [{ quantity: "Mn", min: "20", unit: "1", formula: "Mn/S" }, []],
    [{ quantity: "Cr", min: "20", unit: "1", formula: "Mn/S" }, ["formula does not compute Cr"]],
    [{ quantity: "G", min: "5", unit: "1" }, []],
  ])("%j: %j", (limit, expected) => {
    expect(refusals(limit)).toEqual(expected);
  });
});

describe("a measure whose unit is not known here", () => {
  it.each([
    ["35 ft.lbf", undefined],
    ["35 ft·lbf", "units known here: J, ft.lbf, kgf.m"],
    ["35 mm", "units known here: J, ft.lbf, kgf.m"],
    ["35", "units known here: J, ft.lbf, kgf.m"],
  ])("%s: %s", (average, told) => {
    const impact = [{ zone: "weld", temperature: "-196 °C", average, rule: "70 %" }];
    const parsed = requirementSchema.safeParse({ requirement: 1, name: "T-204", impact });
    expect(parsed.error?.issues[0]?.message.split("; ")[1]).toBe(told);
  });

  it("is told of a limit too", () => {
    const [refusal] = refusals({ quantity: "Rm", min: "70", unit: "kpsi" });
    expect(refusal).toMatch(/^unit not a known unit; known are 1, %, ppm, MPa, .*ksi/);
  });
});
