import type { Cell, Table } from "../../recogniser/cells.js";
import { cellsOfRow, type Grid, type NumberBlock, numberBlocks, readGrid } from "../reading/grid.js";
import { type HeaderLine, readHeaderLines } from "../reading/header-lines.js";
import { readLinesBeside } from "../reading/lines-beside.js";
import { EVERYTHING } from "./curve-doubt.js";
import { type PieceColumns, type ReadColumns, readColumns } from "./read-columns.js";
import { readSpecimen } from "./read-specimen.js";
import { readStatedResults } from "./read-stated.js";
import type { RecordDoubt, TensileColumns, TensileRecord } from "./record.js";

/** Fewer rows than this are a table of results, not a curve. */
const FEWEST_ROWS = 20;

/**
 * Reads one table as records of tensile tests: header lines about the piece, then columns of force or stress against strain,
 * extension or crosshead. Several pieces may stand side by side or one under another. None for everything else, so that it can be
 * asked first of any table.
 */
export function readTensileRecords(table: Table): TensileRecord[] {
  if (table.cells.length < 2 * FEWEST_ROWS) return [];
  const grid = readGrid(table);
  const records: TensileRecord[] = [];
  let after = 0;
  let headingRow = -1;
  for (const block of numberBlocks(grid, FEWEST_ROWS)) {
    const read = readColumns(grid, block, after);
    const repeatsHeadings = read && headingRow >= 0 && read.headingRow === after && isSameRow(grid, after, headingRow);
    if (read && !repeatsHeadings) {
      records.push(...readBlock(grid, block, read, after));
      headingRow = read.headingRow;
    } else interrupt(records, grid, block);
    if (records.length > 0) after = block.end;
  }
  return records;
}

function readBlock(grid: Grid, block: NumberBlock, read: ReadColumns, after: number): TensileRecord[] {
  const { pieces, headingRow } = read;
  const [only, ...more] = pieces;
  if (only && more.length === 0) {
    return [recordOf(grid, block, only, readHeaderLines(grid, headingRow, after), [])];
  }
  const ranges = pieces.map(({ from }, index) => ({
    from: index === 0 ? 0 : from,
    to: pieces[index + 1]?.from ?? Number.POSITIVE_INFINITY,
  }));
  const { lines, unclear } = readLinesBeside(grid, after, headingRow, ranges);
  const doubts = unclear.map(headerLineUnclear);
  return pieces.map((piece, index) => recordOf(grid, block, piece, lines[index]!, doubts, ranges[index]));
}

function recordOf(
  grid: Grid,
  block: NumberBlock,
  piece: PieceColumns,
  lines: readonly HeaderLine[],
  doubts: readonly RecordDoubt[],
  beside?: { readonly from: number; readonly to: number },
): TensileRecord {
  // Beside a longer neighbour a column ends in empty cells, which are no samples of this piece.
  const rows = beside ? filledRows(piece.columns) : block.end - block.first;
  const cellsAt = (row: number) =>
    cellsOfRow(grid, row).filter(({ column }) => !beside || (column >= beside.from && column < beside.to));
  const first = cellsAt(block.first)[0] ?? grid.cells[grid.rowStarts[block.first]!]!;
  return {
    columns: beside ? firstRows(piece.columns, rows) : piece.columns,
    rows,
    specimen: readSpecimen(lines, grid.decimalMark),
    stated: readStatedResults(lines, grid.decimalMark),
    place: first.place,
    lastPlace: (cellsAt(block.first + Math.max(0, rows - 1)).at(-1) ?? first).place,
    notes: piece.notes,
    doubts: [...piece.doubts, ...doubts, ...markDoubt(grid)],
  };
}

function filledRows({ timeSeconds: _, ...columns }: TensileColumns): number {
  const all = Object.values(columns) as readonly Float64Array[];
  let rows = all[0]?.length ?? 0;
  while (rows > 0 && all.every((values) => Number.isNaN(values[rows - 1]!))) rows--;
  return rows;
}

function firstRows(columns: TensileColumns, rows: number): TensileColumns {
  return Object.fromEntries(Object.entries(columns).map(([name, values]) => [name, values.subarray(0, rows)]));
}

function isSameRow(grid: Grid, row: number, other: number): boolean {
  const textOf = (at: number) =>
    cellsOfRow(grid, at)
      .map(({ text }) => text)
      .join("\n");
  return textOf(row) === textOf(other);
}

/** Rows that go on after words, or under the same headings again, belong to the curve before, of which a part is then missing. */
function interrupt(records: TensileRecord[], grid: Grid, block: NumberBlock): void {
  const last = records.at(-1);
  if (!last) return;
  const { place } = grid.cells[grid.rowStarts[block.first]!]!;
  const message =
    `The curve is interrupted by words or an empty row, and ${block.end - block.first} more rows of numbers follow, which were not read. ` +
    "Take the interruption out, or give each piece its own headings and header lines.";
  const doubt: RecordDoubt = { code: "record-interrupted", message, affects: EVERYTHING, place };
  records[records.length - 1] = { ...last, doubts: [...last.doubts, doubt] };
}

function headerLineUnclear({ text, place }: Cell): RecordDoubt {
  const message = `The line "${text}" above pieces side by side could not be told apart by piece and was not used.`;
  return { code: "header-line-unclear", message, affects: [], place };
}

function markDoubt(grid: Grid): RecordDoubt[] {
  if (!grid.markUncertain) return [];
  const message =
    "Every comma in this record could be a decimal comma or stand between thousands. It was read as a decimal comma: check the numbers.";
  return [{ code: "decimal-mark-uncertain", message, affects: EVERYTHING }];
}
