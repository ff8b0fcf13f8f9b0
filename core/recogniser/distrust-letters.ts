import { normaliseHeatNumber } from "../certificate/heat-number.js";
import { kindOf } from "../quantity/quantity.js";
import type { Block } from "./block.js";
import type { Column } from "./columns.js";
import { doubt, type TableContext } from "./context.js";
import { cellAt } from "./grid.js";
import type { AttributedRow } from "./name-tests.js";

/** Confidence of elements in rows that letters tell apart which nothing explains. */
const UNEXPLAINED = 0.5;

/**
 * Rows of elements of one heat that only short letters tell apart ("S", "St") under a title that is not known: they may be heat and
 * product analyses, which are held to different limits.
 */
export function distrustLetters(
  context: TableContext,
  block: Block,
  columns: readonly Column[],
  rows: readonly AttributedRow[],
): AttributedRow[] {
  const labels = columns.filter(({ title }) => !title.quantity && !title.field && !title.role);
  const labelsOf = ({ row }: AttributedRow) =>
    labels.map(({ column }) => cellAt(block.grid, row, column)?.cell.text.trim() ?? "").find(isLetters);
  const byHeat = new Map<string, AttributedRow[]>();
  for (const row of rows.filter(isUnsaid)) {
    const heat = normaliseHeatNumber(row.result.heat?.value ?? "");
    byHeat.set(heat, [...(byHeat.get(heat) ?? []), row]);
  }
  const suspects = new Set(
    [...byHeat.values()].filter((group) => new Set(group.map(labelsOf)).size > 1 && group.some(labelsOf)).flat(),
  );
  const first = [...suspects][0];
  if (first) {
    doubt(
      context,
      "letters-unexplained",
      `Letters such as ${JSON.stringify(labelsOf(first) ?? "")} tell rows of one heat apart, and nothing says what they mean; these analyses are not relied on.`,
      first.result.first.place,
    );
  }
  return rows.map((attributed) => (suspects.has(attributed) ? lowered(attributed) : attributed));
}

function isLetters(text: string): boolean {
  return /^\p{L}{1,3}\.?$/u.test(text);
}

function isUnsaid({ result: { readings } }: AttributedRow): boolean {
  return readings.some(({ quantity, analysis }) => kindOf(quantity) === "chemistry" && analysis === undefined);
}

function lowered(attributed: AttributedRow): AttributedRow {
  const readings = attributed.result.readings.map((reading) =>
    kindOf(reading.quantity) === "chemistry"
      ? { ...reading, confidence: Math.min(reading.confidence, UNEXPLAINED) }
      : reading,
  );
  return { ...attributed, result: { ...attributed.result, readings } };
}
