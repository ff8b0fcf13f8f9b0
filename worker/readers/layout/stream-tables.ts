import { bandRows } from "./band-rows.js";
import { type Columns, createColumns } from "./columns.js";
import { cutAtGutters } from "./cut-at-gutters.js";
import { cutByNeighbours } from "./cut-by-neighbours.js";
import { cutSegments, type Segment } from "./segments.js";
import { spreadCentred } from "./spread-centred.js";
import type { DraftCell, TableDraft } from "./table-draft.js";
import { isNumeric, type Word } from "./word.js";
import { mergeWrapped } from "./wrapped-rows.js";

/** A blank strip higher than so many rows ends a table; one with the same columns may go on after a wider strip. */
const END_GAP = 2.5;
const SAME_COLUMNS_GAP = 6;
/** A title in larger type is no row of what follows. */
const MOST_HEIGHT_RATIO = 1.5;

/**
 * Tables without ruling lines: rows whose pieces stand under each other are one table, and its columns are what no piece
 * crosses. Lines that belong to no table come out as tables of their own, so that nothing on the page is lost.
 * @param isTyped written line by line on a typewriter: its lines fall into strips one space wide by chance
 */
export function buildStreamTables(words: readonly Word[], { isTyped = false } = {}): TableDraft[] {
  const lines = bandRows(words).map(cutSegments);
  const rows = cutByNeighbours(mergeWrapped(isTyped ? lines : cutAtGutters(lines)));
  const tables: TableDraft[] = [];
  let loose: Segment[][] = [];
  const finishLoose = () => {
    if (loose.length > 0) tables.push(writeLines(loose));
    loose = [];
  };
  for (let index = 0; index < rows.length; ) {
    const { length, columns } = growTable(rows, index);
    if (length > 1) {
      finishLoose();
      tables.push(writeTable(rows.slice(index, index + length), columns));
      index += length;
    } else {
      const last = loose.at(-1);
      if (last && gapBetween(last, rows[index]!) > END_GAP) finishLoose();
      loose.push(rows[index]!);
      index++;
    }
  }
  finishLoose();
  return tables;
}

/** How many rows from `start` make one table. 1: no table starts here. */
function growTable(rows: readonly Segment[][], start: number): { length: number; columns: Columns } {
  const first = rows[start]!;
  const columns = createColumns(first);
  if (first.length < 2) return { length: 1, columns };
  let length = 1;
  while (start + length < rows.length) {
    const last = rows[start + length - 1]!;
    const row = rows[start + length]!;
    const gap = gapBetween(last, row);
    if (heightRatio(last, row) > MOST_HEIGHT_RATIO || isNextHeading(last, row, columns)) break;
    if (row.length === 1) {
      const next = rows[start + length + 1];
      // A line inside a table: a cell's second line, or a heading between rows that go on as before.
      const goesOn =
        next !== undefined && next.length >= 3 && columns.matches(next) && gapBetween(row, next) <= END_GAP;
      if (gap > END_GAP || !(columns.holds(row[0]!) ? gap < 1 || goesOn : goesOn)) break;
    } else if (gap > SAME_COLUMNS_GAP || (gap > END_GAP && !columns.matches(row)) || !columns.accept(row)) {
      break;
    }
    length++;
  }
  return { length, columns };
}

/** Words alone, under a row of values and not under its columns: the heading of the next table. */
function isNextHeading(last: readonly Segment[], row: readonly Segment[], columns: Columns): boolean {
  if (row.length < 2 || row.some(hasValue) || !row.every(({ words }) => words.some(({ text }) => /\p{L}/u.test(text))))
    return false;
  const isAligned = columns.matches(row) && row.length >= last.length;
  return last.filter(hasValue).length >= last.length / 2 && !isAligned;
}

/** "253", "253 MPa", "98 102 95"; but "0.2 % proof strength" and "Elongation 50 mm" are titles. */
function hasValue({ words }: Segment): boolean {
  const letters = words.filter(({ text }) => !isNumeric(text));
  return isNumeric(words[0]!.text) && letters.length <= 1;
}

/** In heights of the lower line. */
function gapBetween(above: readonly Segment[], below: readonly Segment[]): number {
  const [upper, lower] = [extentOf(above), extentOf(below)];
  return (lower.top - upper.bottom) / Math.max(1, Math.min(upper.bottom - upper.top, lower.bottom - lower.top));
}

function heightRatio(above: readonly Segment[], below: readonly Segment[]): number {
  const [first, second] = [above, below].map(extentOf).map(({ top, bottom }) => bottom - top);
  return Math.max(first! / second!, second! / first!);
}

/** Of the usual word: in a scan, the box of one word in ten is half as high again as its ink. */
function extentOf(row: readonly Segment[]): { top: number; bottom: number } {
  const words = row.flatMap((segment) => segment.words);
  return { top: median(words.map((word) => word.top)), bottom: median(words.map((word) => word.bottom)) };
}

function median(values: readonly number[]): number {
  return [...values].sort((left, right) => left - right)[Math.floor(values.length / 2)]!;
}

function writeTable(rows: readonly (readonly Segment[])[], columns: Columns): TableDraft {
  let disputed = false;
  const cells = rows.flatMap((segments, row): DraftCell[] => {
    const placed = columns.place(segments);
    disputed ||= placed.disputed;
    return placed.pieces.map(({ column, columnSpan, words }) => ({ row, column, columnSpan, rowSpan: 1, words }));
  });
  return { cells: spreadCentred(cells), disputed, ...cornerOf(rows) };
}

function writeLines(rows: readonly (readonly Segment[])[]): TableDraft {
  const cells = rows.flatMap((segments, row) =>
    segments.map(({ words }, column): DraftCell => ({ row, column, columnSpan: 1, rowSpan: 1, words })),
  );
  return { cells, disputed: false, ...cornerOf(rows) };
}

function cornerOf(rows: readonly (readonly Segment[])[]): { top: number; left: number } {
  const segments = rows.flat();
  return {
    top: Math.min(...segments.map((segment) => segment.top)),
    left: Math.min(...segments.map((segment) => segment.left)),
  };
}
