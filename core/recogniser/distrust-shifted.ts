import type { ResultRow } from "./result-row.js";

/** Confidence of values that may each stand a row too low. */
const SHIFT_DISTRUSTED = 0.5;

/**
 * A table whose first row lacks a value, and which ends in a row that has nothing but one: somebody moved a column down, and
 * every value of it stands beside the wrong name.
 */
export function distrustShifted(rows: readonly ResultRow[]): ResultRow[] {
  const quantity = shiftedQuantity(rows);
  if (quantity === undefined) return [...rows];
  return rows.map((row) => ({
    ...row,
    readings: row.readings.map((reading) =>
      reading.quantity === quantity
        ? {
            ...reading,
            confidence: Math.min(reading.confidence, SHIFT_DISTRUSTED),
            notes: [
              ...(reading.notes ?? []),
              "its column lacks the first value and has one too many below: it may have slipped",
            ],
          }
        : reading,
    ),
  }));
}

function shiftedQuantity(rows: readonly ResultRow[]): string | undefined {
  const [first, ...others] = rows;
  const last = others.pop();
  const [alone, ...more] = last?.readings ?? [];
  if (!first || !last || !alone || more.length > 0 || last.first.column <= first.first.column) return undefined;
  const has = (row: ResultRow) => row.readings.some(({ quantity }) => quantity === alone.quantity);
  return !has(first) && others.length > 0 && others.every(has) ? alone.quantity : undefined;
}
