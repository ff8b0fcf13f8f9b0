import { describe, expect, it } from "vitest";
import {
  convertElongation,
  elongationByA370,
  elongationOnFixedLength,
  outsideIso2566,
} from "../../../core/quantity/elongation-conversion.js";

describe("elongation on another gauge length", () => {
  it("falls with the length and comes back", () => {
    for (const family of ["ferritic", "austenitic"] as const) {
      expect(convertElongation(25, 5.65, 11.3, family)).toBeLessThan(25);
      expect(convertElongation(25, 5.65, 4, family)).toBeGreaterThan(25);
      expect(convertElongation(convertElongation(25, 5.65, 11.3, family), 11.3, 5.65, family)).toBeCloseTo(25, 12);
    }
  });

  it("changes austenitic steel less than ferritic", () => {
    expect(convertElongation(25, 5.65, 11.3, "austenitic")).toBeGreaterThan(
      convertElongation(25, 5.65, 11.3, "ferritic"),
    );
  });

  it("has printed factors that follow from the law to a part in a thousand", () => {
    for (const family of ["ferritic", "austenitic"] as const) {
      expect(elongationOnFixedLength(30, 100, 56.5, family) / 30).toBeCloseTo(1, 2);
    }
  });

  // The A370 formula with the constants that the annex prints, worked by hand; constants from memory.
  it.each([
    ["the round piece itself", 0.196, 2, "ferritic", 29.87],
    ["thin sheet on 2 in", 0.05, 2, "ferritic", 22.73],
    ["flat piece on 8 in", 0.75, 8, "ferritic", 22.44],
    ["flat piece on 8 in", 0.75, 8, "austenitic", 27.36],
  ] as const)(
    "30 %% on the round piece becomes, for %s (%f in², %f in, %s), %f %%",
    (_, area, length, family, percent) => {
      expect(elongationByA370(30, area, length, family)).toBeCloseTo(percent, 2);
    },
  );

  it.each([
    ["ferritic", { tensileStrengthMPa: 300, areaMm2: 100, gaugeLengthMm: 250, thicknessMm: 4 }, []],
    ["ferritic", { tensileStrengthMPa: 700, areaMm2: 100, gaugeLengthMm: 50 }, []],
    ["austenitic", { tensileStrengthMPa: 450, areaMm2: 100, gaugeLengthMm: 50, thicknessMm: 3 }, []],
    ["austenitic", { tensileStrengthMPa: 750, areaMm2: 100, gaugeLengthMm: 50 }, []],
    ["ferritic", { tensileStrengthMPa: 299, areaMm2: 100, gaugeLengthMm: 50 }, ["Rm is outside 300 to 700 MPa"]],
    ["austenitic", { tensileStrengthMPa: 751, areaMm2: 100, gaugeLengthMm: 50 }, ["Rm is outside 450 to 750 MPa"]],
    [
      "austenitic",
      { tensileStrengthMPa: 600, areaMm2: 100, gaugeLengthMm: 251, thicknessMm: 2.9 },
      ["the gauge length is above 25 √S0", "strip under 3 mm converts only by agreement"],
    ],
  ] as const)("%s %o: %o", (family, piece, reasons) => {
    expect(outsideIso2566(family, piece)).toEqual(reasons);
  });
});
