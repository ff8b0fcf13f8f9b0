import type { Cell, Table } from "../../recogniser/cells.js";
import { numberStyle, readNumber } from "./number-style.js";

/**
 * A table with every cell read as a number once: raw records have hundreds of thousands of cells, so each is looked at once and
 * the rest works on plain arrays.
 */
export interface Grid {
  readonly cells: readonly Cell[];
  /** Beside each cell: its number, or NaN. */
  readonly numbers: Float64Array;
  /** Where each row's cells begin, one more entry at the end. */
  readonly rowStarts: readonly number[];
  readonly decimalMark: "." | ",";
  /** The decimal mark could not be told from a thousands mark. */
  readonly markUncertain: boolean;
}

export function readGrid(table: Table): Grid {
  const { cells } = table;
  const style = numberStyle(cells);
  const numbers = new Float64Array(cells.length);
  const rowStarts: number[] = [];
  let row = -1;
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i]!;
    if (cell.row !== row) {
      row = cell.row;
      rowStarts.push(i);
    }
    numbers[i] = cell.number === undefined ? readNumber(cell.text, style.decimalMark) : Number(cell.number);
  }
  rowStarts.push(cells.length);
  return { cells, numbers, rowStarts, ...style };
}

/** A stretch of rows of nothing but numbers: from entry `first` of `rowStarts` up to but not including `end`. */
export interface NumberBlock {
  readonly first: number;
  readonly end: number;
}

/** Every stretch of at least `fewestRows` consecutive rows with at least two numbers and no words in them, in their order. */
export function numberBlocks(grid: Grid, fewestRows: number): NumberBlock[] {
  const blocks: NumberBlock[] = [];
  let first = -1;
  let lastRow = -2;
  const rows = grid.rowStarts.length - 1;
  for (let i = 0; i <= rows; i++) {
    const row = i < rows ? grid.cells[grid.rowStarts[i]!]!.row : -2;
    const numeric = i < rows && isNumberRow(grid, i);
    if (first >= 0 && (!numeric || row !== lastRow + 1)) {
      if (i - first >= fewestRows) blocks.push({ first, end: i });
      first = -1;
    }
    if (numeric && first < 0) first = i;
    lastRow = row;
  }
  return blocks;
}

function isNumberRow(grid: Grid, row: number): boolean {
  let count = 0;
  for (let i = grid.rowStarts[row]!; i < grid.rowStarts[row + 1]!; i++) {
    const value = grid.numbers[i]!;
    if (!Number.isNaN(value)) count++;
    else if (!isPlaceholder(grid.cells[i]!.text)) return false;
  }
  return count >= 2;
}

// A clock time or date beside the numbers is no measurement, but does not end the curve either.
const PLACEHOLDER = /^(nan|n\/?a|#n\/?a|-+|–|null|\*+|\?+|\d{1,4}[-.:/]\d\d([-.:/ T]\d\S*)*)$/i;

function isPlaceholder(text: string): boolean {
  return text === "" || PLACEHOLDER.test(text);
}

/** One column of a block, a value a row, NaN where the row has none. */
export function columnValues(grid: Grid, block: NumberBlock, column: number): Float64Array {
  const values = new Float64Array(block.end - block.first).fill(Number.NaN);
  for (let row = block.first; row < block.end; row++) {
    for (let i = grid.rowStarts[row]!; i < grid.rowStarts[row + 1]!; i++) {
      if (grid.cells[i]!.column === column) {
        values[row - block.first] = grid.numbers[i]!;
        break;
      }
    }
  }
  return values;
}

export function cellsOfRow(grid: Grid, row: number): readonly Cell[] {
  return grid.cells.slice(grid.rowStarts[row]!, grid.rowStarts[row + 1]!);
}
