import { describe, expect, it } from "vitest";
import { isElement, isQuantity, kindOf, QUANTITIES, reportUnit } from "../../../core/quantity/quantity.js";

describe("quantities", () => {
  it.each([
    ["C", "chemistry", "%"],
    ["Rp0.2", "strength", "MPa"],
    ["A50", "elongation", "%"],
    ["HBW", "hardness", "HBW"],
    ["HRB", "hardness", "HRB"],
    ["HRC", "hardness", "HRC"],
    ["HV", "hardness", "HV"],
    ["Hardness", "hardness", "1"], // no scale is stated, so none is claimed
    ["KV", "impact", "J"],
    ["KU", "impact", "J"],
    ["KCV", "impact", "J/cm2"],
    ["LE", "impact", "mm"],
    ["SFA", "impact", "%"],
    ["CE", "index", "1"],
    ["FN", "index", "1"],
    ["Md30", "index", "°C"],
    ["Z", "other", "%"],
    ["Agt", "other", "%"],
    ["E", "other", "GPa"],
    ["toughness", "other", "MJ/m3"],
    ["resilience", "other", "MJ/m3"],
  ] as const)("%s is of kind %s and reported in %s", (quantity, kind, unit) => {
    expect(kindOf(quantity)).toBe(kind);
    expect(reportUnit(quantity)).toBe(unit);
  });

  it("have each symbol once, so silver is not among the elements: Ag is the uniform elongation", () => {
    expect(new Set(QUANTITIES).size).toBe(QUANTITIES.length);
  });

  it("are known by their exact symbol", () => {
    expect(isQuantity("Rp0.2")).toBe(true);
    expect(isQuantity("rp0.2")).toBe(false);
    expect(isElement("Cr")).toBe(true);
    expect(isElement("Rm")).toBe(false);
    expect(isElement("cr")).toBe(false);
  });
});
