import { describe, expect, it } from "vitest";
import { decimal, formatDecimal } from "../../../core/quantity/decimal.js";
import { b313ImpactMinimum } from "../../../core/requirement/b313-impact-minimums.js";

describe("B31.3 Table 323.3.5 (2016)", () => {
  it.each([
    ["415", true, undefined, "18/14"],
    ["448", true, undefined, "18/14"],
    ["448.1", true, undefined, "20/16"],
    ["415", false, undefined, "14/10"],
    ["517", false, undefined, "18/14"],
    ["517.1", false, undefined, "none"],
    ["517.1", true, undefined, "27/20"],
    ["655", true, undefined, "27/20"],
    ["656", true, undefined, "0.38 mm each"],
    ["485", false, 8, "0.38 mm each"],
  ])("at %s MPa, deoxidised %s, P-No. %s: %s", (tensile, fullyDeoxidised, pNumber, expected) => {
    const minimum = b313ImpactMinimum({
      minimumTensileMPa: decimal(tensile),
      fullyDeoxidised,
      ...(pNumber && { pNumber }),
    });
    const shown = !minimum
      ? "none"
      : minimum.kind === "energy"
        ? `${formatDecimal(minimum.averageJ)}/${formatDecimal(minimum.singleJ)}`
        : `${formatDecimal(minimum.eachMm)} mm each`;
    expect(shown).toBe(expected);
  });
});
