import { describe, expect, it } from "vitest";
import type { Quantity } from "../../../../core/quantity/quantity.js";
import { improbableUnitContradictions } from "../../../../core/verdict/consistency/improbable-units.js";
import { clean304L, impactSet, reading } from "../../../support/heat.js";
import { numbered, sayings } from "./saying.js";

const said = (quantity: Quantity, text: string) =>
  sayings(improbableUnitContradictions(numbered([reading(quantity, text)])));

describe("a value that no such metal has in its unit", () => {
  it.each<[Quantity, string, string]>([
    ["Rm", "604 ksi", "604 MPa or 60.4 ksi"],
    ["Rm", "87.6 MPa", "87.6 ksi, 87.6 kgf/mm2 or 876 MPa"],
    ["Rm", "87600 MPa", "87600 psi or 876.00 MPa"],
    ["Rm", "6040 MPa", "6040 kgf/cm2 or 604.0 MPa"],
    ["Rp0.2", "29 MPa", "29 ksi, 29 kgf/mm2 or 290 MPa"],
    ["C", "21 %", "21 ppm, 2.1 %, 0.21 % or 0.021 %"],
    ["N", "620 %", "620 ppm or 0.620 %"],
    ["Mn", "162 %", "162 ppm, 16.2 %, 1.62 % or 0.162 %"],
    ["A50", "540 %", "54.0 %, 5.40 % or 0.540 %"],
    ["KV", "0.3 J", "0.3 kgf.m"],
    ["LE", "15 mm", "15 um or 15 mil"],
  ])("%s %s: %s would fit", (quantity, text, fits) => {
    expect(said(quantity, text)).toEqual([
      `${quantity} ${text} lies outside anything such metals do; ${fits} would fit`,
    ]);
  });

  it("is said also where no other unit would explain it", () => {
    expect(said("Rm", "0.02 MPa")).toEqual([
      "Rm 0.02 MPa lies outside anything such metals do; no other unit would fit",
    ]);
    expect(said("A50", "999999 %")).toEqual([
      "A50 999999 % lies outside anything such metals do; no other unit would fit",
    ]);
    expect(said("C", "99999999 %")).toEqual([
      "C 99999999 % lies outside anything such metals do; no other unit would fit",
    ]);
  });
});

describe("the usual range", () => {
  // Rm 150 to 3000 MPa, C 0.0005 to 4.5 %, elongation 0.5 to 90 %: common practice, no source.
  it.each<[Quantity, string, number]>([
    ["Rm", "150", 0],
    ["Rm", "149.9", 1],
    ["Rm", "3000", 0],
    ["Rm", "3000.1", 1],
    ["C", "4.5", 0],
    ["C", "4.51", 1],
    ["C", "0.0005", 0],
    ["C", "0.00049", 1],
    ["A", "90", 0],
    ["A", "90.1", 1],
    ["A", "0.5", 0],
    ["A", "0.49", 1],
    ["S", "0.000", 0],
    ["C", "<0.0001", 0],
    ["KV", "460", 0],
  ])("%s %s: %i", (quantity, text, count) => {
    expect(said(quantity, text)).toHaveLength(count);
  });

  it("holds a clean heat and its impact sets", () => {
    const readings = numbered([...clean304L(), ...impactSet(["61", "65", "64"])]);
    expect(improbableUnitContradictions(readings)).toEqual([]);
  });
});

describe("a temperature below absolute zero", () => {
  it.each([
    ["-273.15 °C", 0],
    ["-273.16 °C", 1],
    ["-459.67 °F", 0],
    ["-459.68 °F", 1],
    ["0 K", 0],
    ["-1 K", 1],
  ])("%s: %i, once for a whole set", (at, count) => {
    expect(improbableUnitContradictions(numbered(impactSet(["61", "65", "64"], { at })))).toHaveLength(count);
  });

  it.each([
    ["-320 °C", "-320 °F would fit"],
    ["-196 K", "-196 °C or -196 °F would fit"],
    ["-273.15 K", "-273.15 °C or -273.15 °F would fit"],
    ["-273.16 K", "; -273.16 °F would fit"],
    ["-500 °C", "is below absolute zero"],
  ])("%s: %s", (at, fits) => {
    const [what] = sayings(improbableUnitContradictions(numbered(impactSet(["61"], { at }))));
    expect(what?.endsWith(fits)).toBe(true);
  });
});
