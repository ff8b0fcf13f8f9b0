import { describe, expect, it } from "vitest";
import { grainSizeNumber } from "../../../core/metallurgy/grain-size.js";
import {
  austeniticBrinell,
  austeniticRockwellB,
  FERRITIC_HB_HRC_KSI,
  FERRITIC_HB_HV_HRB_MPA,
  ferriticEquivalents,
} from "../../../core/metallurgy/hardness-conversion.js";
import { brinell } from "../../../core/metallurgy/hardness-from-indentation.js";
import { energyFromPerArea, energyPerArea } from "../../../core/metallurgy/impact-per-area.js";
import {
  minimumPipeElongationInchPound,
  minimumPipeElongationPercent,
} from "../../../core/metallurgy/pipe-elongation.js";
import { decimal, formatDecimal, toNumber } from "../../../core/quantity/decimal.js";

describe("hardness", () => {
  it("refuses an indentation as large as the ball", () => {
    expect(() => brinell(29420, 10, 10)).toThrow("smaller than its ball");
    expect(() => brinell(29420, 10, 0)).toThrow();
  });

  it("converts austenitic steel only between 60 and 100 HRB, and back", () => {
    expect(austeniticBrinell(59.9)).toBeUndefined();
    expect(austeniticBrinell(100.1)).toBeUndefined();
    expect(austeniticRockwellB(austeniticBrinell(92)!)).toBeCloseTo(92, 9);
    expect(austeniticRockwellB(300)).toBeUndefined();
  });

  it("answers only at printed rows of the ferritic tables", () => {
    expect(ferriticEquivalents(255)).toEqual({ hrc: 25.4, tensileKsi: 121, hv: 269, hrb: 100, tensileMPa: 873 });
    expect(ferriticEquivalents(745)).toEqual({ hrc: 65.3 });
    expect(ferriticEquivalents(207)).toEqual({ hv: 218, hrb: 93, tensileMPa: 696 });
    expect(ferriticEquivalents(256)).toBeUndefined();
  });

  it("has tables that fall in every column", () => {
    for (const table of [FERRITIC_HB_HRC_KSI, FERRITIC_HB_HV_HRB_MPA]) {
      for (const column of table[0]!.keys()) {
        const values = table.map((row) => row[column]).filter((value) => value !== undefined);
        expect(values).toEqual([...values].sort((left, right) => right - left));
      }
    }
  });
});

describe("impact energy per area", () => {
  it.each([
    ["100", "10", "125"],
    ["100", "6.67", "187.406296852"],
    ["60", "5", "150"],
  ])("%s J on %s mm is %s J/cm2", (energy, width, expected) => {
    expect(formatDecimal(energyPerArea(decimal(energy), decimal(width)))).toBe(expected);
  });

  it("goes back exactly", () => {
    expect(toNumber(energyFromPerArea(decimal("125"), decimal("10")))).toBe(100);
    expect(toNumber(energyFromPerArea(decimal("60.5"), decimal("7.5")))).toBe(36.3);
  });
});

describe("minimum elongation of pipe", () => {
  it("caps the area", () => {
    expect(formatDecimal(minimumPipeElongationPercent(485, 415))).toBe("29.4243");
    expect(formatDecimal(minimumPipeElongationPercent(900, 415, 485))).toBe("29.4243");
  });

  it("gives the same in both unit systems within the rounding of their constants, 1940 and 625000", () => {
    const inchPound = toNumber(minimumPipeElongationInchPound(0.75, 60000));
    const metric = toNumber(minimumPipeElongationPercent(483.87, 413.685)); // 0.75 in2 and 60 ksi, converted
    expect(Math.abs(inchPound - metric)).toBeLessThan(0.1);
    expect(toNumber(minimumPipeElongationInchPound(2, 60000, 0.75))).toBe(inchPound);
  });
});

describe("grain size", () => {
  it("refuses a length that is none", () => {
    expect(() => grainSizeNumber(0)).toThrow();
    expect(grainSizeNumber(0.02)).toBeGreaterThan(grainSizeNumber(0.04));
  });
});
