import type { PlacedDoubt, Table } from "../../recogniser/cells.js";
import { type Grid, longestNumberBlock, readGrid } from "../reading/grid.js";
import { readHeaderLines } from "../reading/header-lines.js";
import { readColumns } from "./read-columns.js";
import { readSpecimen } from "./read-specimen.js";
import { readStatedResults } from "./read-stated.js";
import type { TensileRecord } from "./record.js";

/** Fewer rows than this are a table of results, not a curve. */
const FEWEST_ROWS = 20;

/**
 * Reads one table as the record of a tensile test: header lines about the piece, then columns of force or stress against strain,
 * extension or crosshead. Undefined for everything else, so that it can be asked first of any table.
 */
export function readTensileRecord(table: Table): TensileRecord | undefined {
  if (table.cells.length < 2 * FEWEST_ROWS) return undefined;
  const grid = readGrid(table);
  const block = longestNumberBlock(grid);
  if (!block || block.end - block.first < FEWEST_ROWS) return undefined;
  const read = readColumns(grid, block);
  if (!read) return undefined;

  const lines = readHeaderLines(grid, read.headingRow);
  return {
    columns: read.columns,
    rows: block.end - block.first,
    specimen: readSpecimen(lines, grid.decimalMark),
    stated: readStatedResults(lines, grid.decimalMark),
    place: grid.cells[grid.rowStarts[block.first]!]!.place,
    lastPlace: grid.cells[grid.rowStarts[block.end]! - 1]!.place,
    notes: read.notes,
    doubts: [...read.doubts, ...markDoubt(grid)],
  };
}

function markDoubt(grid: Grid): PlacedDoubt[] {
  if (!grid.markUncertain) return [];
  const message =
    "Every comma in this record could be a decimal comma or stand between thousands. It was read as a decimal comma: check the numbers.";
  return [{ code: "decimal-mark-uncertain", message }];
}
