import type { Grade, LibraryGrade, Limit } from "../../grades/grade.js";
import { compare, decimal } from "../../quantity/decimal.js";
import { isElement, kindOf, type QuantityKind } from "../../quantity/quantity.js";
import { convert } from "../../quantity/unit.js";
import type { Judgement, NumberedReading } from "../judgement.js";
import { COMMON_PRACTICE, contradiction } from "./contradiction.js";

/**
 * Four elements, or three results of tests, that all stand exactly on a bound of the grade are the specification row, not an analysis
 * or tests (common practice, no source).
 */
const SUSPICIOUS_ELEMENTS = 4;
const SUSPICIOUS_TESTS = 3;
const TESTED: readonly QuantityKind[] = ["strength", "elongation", "hardness"];

export function copiedLimitContradictions(
  readings: readonly NumberedReading[],
  grades: readonly LibraryGrade[],
): readonly Judgement[] {
  const elements = readings.filter(({ quantity, bound }) => isElement(quantity) && bound === undefined);
  const tests = readings.filter(({ quantity, bound }) => TESTED.includes(kindOf(quantity)) && bound === undefined);
  return grades.flatMap(({ grade }) => [
    ...onLimits(grade, elements, SUSPICIOUS_ELEMENTS),
    ...onLimits(grade, tests, SUSPICIOUS_TESTS),
  ]);
}

function onLimits({ limits, name }: Grade, readings: readonly NumberedReading[], suspicious: number): Judgement[] {
  const copied = readings.filter((reading) =>
    limits.some(
      (limit) => limit.quantity === reading.quantity && limit.sumOf === undefined && isOnBound(limit, reading),
    ),
  );
  const quantities = [...new Set(copied.map((reading) => reading.quantity))];
  if (quantities.length < suspicious) return [];
  const what = `${quantities.join(", ")} all stand exactly on the limits of ${name}, as a specification row would`;
  return [contradiction(what, copied, COMMON_PRACTICE)];
}

/** In the unit that the bound is printed in: a copied number was not converted. */
function isOnBound(limit: Limit, { value, unit }: NumberedReading): boolean {
  return [limit, limit.inchPound].some(
    (side) =>
      side !== undefined &&
      [side.min, side.max].some((bound) => {
        const same = bound === undefined ? undefined : convert(value, unit, side.unit);
        return same !== undefined && same.places <= value.places && compare(decimal(bound!), same) === 0;
      }),
  );
}
