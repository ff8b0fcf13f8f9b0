import type { Known } from "../grades/grade.js";
import { absolute, compare, type Decimal, decimal, subtract } from "../quantity/decimal.js";
import { type Measure, measureIn } from "../quantity/measure.js";

/** How far the bath may be from the temperature it is meant to have. */
export interface TemperatureTolerance {
  readonly name: string;
  readonly toleranceC: Decimal;
  readonly known: Known;
}

export const TEMPERATURE_TOLERANCES = [
  { name: "ASTM E23", toleranceC: decimal("1"), known: { how: "memory", sources: 0 } },
  { name: "ISO 148-1", toleranceC: decimal("2"), known: { how: "memory", sources: 0 } },
] as const satisfies readonly TemperatureTolerance[];

export type TestTemperature = "as required" | "colder" | "warmer within tolerance" | "warmer";

/**
 * Where the test temperature lies against the required one. Colder is the harder test and always serves.
 * The tested value converts to the unit of the requirement: codes print -196 for -320 °F, which is -195.6 exactly.
 */
export function compareTestTemperature(
  required: Measure,
  tested: Measure,
  tolerance?: TemperatureTolerance,
): TestTemperature | undefined {
  const testedValue = measureIn(tested, required.unit);
  if (!testedValue) return undefined;
  const order = compare(testedValue, required.value);
  if (order === 0) return "as required";
  if (order < 0) return "colder";
  return tolerance && isWithinTolerance(required, tested, tolerance) ? "warmer within tolerance" : "warmer";
}

/** Whether a bath meant to be at `specified` may be at `actual`, colder or warmer. */
export function isWithinTolerance(specified: Measure, actual: Measure, tolerance: TemperatureTolerance): boolean {
  const specifiedC = measureIn(specified, "°C");
  const actualC = measureIn(actual, "°C");
  if (!specifiedC || !actualC) return false;
  return compare(absolute(subtract(actualC, specifiedC)), tolerance.toleranceC) <= 0;
}
