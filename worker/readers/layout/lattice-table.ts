import type { Grid } from "./find-grids.js";
import { fillGrid, type GridCell } from "./grid-cells.js";
import { spreadCentred } from "./spread-centred.js";
import { buildStreamTables } from "./stream-tables.js";
import type { TableDraft } from "./table-draft.js";
import { isNumeric, type Word } from "./word.js";
import { isMeasured } from "./wrapped-rows.js";

export interface LatticeResult {
  /** Absent where the lines frame text but make no table. */
  readonly table?: TableDraft;
  /** Words inside the lines that are no cells of the table: free text in a frame. */
  readonly left: readonly Word[];
}

/** A table from its ruling lines, held against what the words alone would have made of it. */
export function buildLatticeTable(grid: Grid, words: readonly Word[]): LatticeResult {
  const { cells, irregular } = fillGrid(grid, words);
  const columnCount = grid.xs.length - 1;
  const frames = cells.filter((cell) => cell.columnSpan === columnCount && isFreeText(cell));
  const kept = cells.filter((cell) => !frames.includes(cell) && cell.words.length > 0);
  if (kept.length < 2) return { left: words };
  const table: TableDraft = {
    cells: spreadCentred(closeRows(kept)),
    top: grid.ys[0]!,
    left: grid.xs[0]!,
    disputed: irregular || kept.some(holdsSeveralValues),
  };
  return { table, left: frames.flatMap((cell) => cell.words) };
}

/** A frame round a letter, or round a table without lines. */
function isFreeText({ words }: GridCell): boolean {
  const top = Math.min(...words.map((word) => word.top));
  const bottom = Math.max(...words.map((word) => word.bottom));
  const height = Math.max(...words.map((word) => word.bottom - word.top));
  return words.length > 0 && bottom - top > 3.5 * height;
}

/** The lines say one cell, the gaps between its words say several values: one of them is wrong. */
function holdsSeveralValues({ words }: GridCell): boolean {
  if (words.filter(({ text }) => isNumeric(text)).length < 2) return false;
  const pieces = buildStreamTables(words).flatMap((table) => table.cells);
  const values = pieces.filter((piece) => piece.words.every(({ text }) => isNumeric(text)));
  // "889" over "138" is a heat number in a narrow cell; values under each other are several.
  return values.length > 1 && (new Set(values.map(({ row }) => row)).size < values.length || values.every(isMeasured));
}

/** Rows that are empty all through, the free text taken out, leave no hole. */
function closeRows(cells: readonly GridCell[]): GridCell[] {
  const used = new Set(
    cells.flatMap(({ row, rowSpan }) => Array.from({ length: rowSpan }, (_, offset) => row + offset)),
  );
  const numbers = new Map([...used].sort((left, right) => left - right).map((row, index) => [row, index]));
  return cells.map((cell) => ({ ...cell, row: numbers.get(cell.row)! }));
}
