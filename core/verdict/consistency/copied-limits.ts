import type { LibraryGrade } from "../../grades/grade.js";
import { compare, decimal } from "../../quantity/decimal.js";
import { isElement } from "../../quantity/quantity.js";
import type { Judgement, NumberedReading } from "../judgement.js";
import { COMMON_PRACTICE, contradiction } from "./contradiction.js";

/** Four elements that all stand exactly on a bound of the grade are the specification row, not an analysis (common practice, no source). */
const SUSPICIOUS = 4;

export function copiedLimitContradictions(
  readings: readonly NumberedReading[],
  grades: readonly LibraryGrade[],
): readonly Judgement[] {
  return grades.flatMap(({ grade }) => {
    const copied = readings.filter((reading) =>
      grade.limits.some(
        (limit) =>
          isElement(reading.quantity) &&
          limit.quantity === reading.quantity &&
          limit.unit === reading.unit &&
          limit.sumOf === undefined &&
          reading.bound === undefined &&
          [limit.min, limit.max].some((bound) => bound !== undefined && compare(decimal(bound), reading.value) === 0),
      ),
    );
    const elements = [...new Set(copied.map((reading) => reading.quantity))];
    if (elements.length < SUSPICIOUS) return [];
    return [
      contradiction(
        `${elements.join(", ")} all stand exactly on the limits of ${grade.name}, as a specification row would`,
        copied,
        COMMON_PRACTICE,
      ),
    ];
  });
}
