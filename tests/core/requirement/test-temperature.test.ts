import { describe, expect, it } from "vitest";
import { parseMeasure } from "../../../core/requirement/parse-measure.js";
import { compareStriker } from "../../../core/requirement/striker.js";
import {
  compareTestTemperature,
  isWithinTolerance,
  TEMPERATURE_TOLERANCES,
} from "../../../core/requirement/test-temperature.js";

const temperature = (text: string) => parseMeasure(text, "temperature")!;
const [E23, ISO148] = TEMPERATURE_TOLERANCES;

describe("test temperature against the required one", () => {
  it.each([
    ["-196 °C", "-196 °C", undefined, "as required"],
    ["-196 °C", "-196.0 °C", undefined, "as required"],
    ["-196 °C", "-269 °C", undefined, "colder"],
    ["-196 °C", "-195 °C", undefined, "warmer"],
    ["-196 °C", "-195 °C", E23, "warmer within tolerance"],
    ["-196 °C", "-194.9 °C", E23, "warmer"],
    ["-20 °C", "-18.0 °C", ISO148, "warmer within tolerance"],
    ["-20 °C", "-17.9 °C", ISO148, "warmer"],
    ["-320 °F", "-320 °F", undefined, "as required"],
    ["-196 °C", "-320 °F", undefined, "warmer"], // exactly -195.56 °C
    ["-196 °C", "-320 °F", E23, "warmer within tolerance"],
    ["-196 °C", "77 K", undefined, "colder"],
  ])("required %s, tested %s: %4$s", (required, tested, tolerance, expected) => {
    expect(compareTestTemperature(temperature(required), temperature(tested), tolerance)).toBe(expected);
  });
});

describe("temperatures that cannot be compared", () => {
  it("are neither warmer nor within tolerance", () => {
    const energy = parseMeasure("27 J", "energy")!;
    expect(compareTestTemperature(temperature("-196 °C"), energy, E23)).toBeUndefined();
    expect(isWithinTolerance(temperature("-196 °C"), energy, E23)).toBe(false);
    expect(isWithinTolerance(energy, temperature("-196 °C"), E23)).toBe(false);
    expect(isWithinTolerance(temperature("-196 °C"), temperature("-197 °C"), E23)).toBe(true);
    expect(isWithinTolerance(temperature("-196 °C"), temperature("-197.1 °C"), E23)).toBe(false);
  });
});

describe("striker", () => {
  it("is judged only where a requirement names it", () => {
    expect(compareStriker(undefined, undefined)).toBe("as required");
    expect(compareStriker(2, 2)).toBe("as required");
    expect(compareStriker(2, 8)).toBe("differs");
    expect(compareStriker(8, undefined)).toBe("not stated");
  });
});
