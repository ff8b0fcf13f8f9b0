import type { Reading } from "../certificate/certificate.js";
import { isPhysical } from "../quantity/physical-range.js";
import { kindOf } from "../quantity/quantity.js";
import type { ResultRow } from "./result-row.js";

/** Confidence of a value whose unit, in the same table, gave another value that no such metal has. */
const UNIT_DISTRUSTED = 0.5;

/**
 * 612 ksi is no tensile strength, so 289 ksi beside it is hardly a yield: one unit wrongly printed is wrong for its whole table.
 * A value in % out of range rather has lost its decimal sign, which says nothing of its neighbours.
 */
export function distrustUnits(rows: readonly ResultRow[]): ResultRow[] {
  const distrusted = new Set<string>();
  for (const { readings } of rows) {
    for (const reading of readings) {
      const { quantity, value, unit } = reading;
      if (unit !== "%" && !isPhysical(quantity, value, unit)) distrusted.add(unitKey(reading));
    }
  }
  if (distrusted.size === 0) return [...rows];
  return rows.map((row) => ({
    ...row,
    readings: row.readings.map((reading) =>
      distrusted.has(unitKey(reading)) && reading.confidence > UNIT_DISTRUSTED
        ? {
            ...reading,
            confidence: UNIT_DISTRUSTED,
            notes: [...(reading.notes ?? []), `other values in ${reading.unit} are improbable`],
          }
        : reading,
    ),
  }));
}

function unitKey({ quantity, unit }: Reading): string {
  return `${kindOf(quantity)} ${unit}`;
}
