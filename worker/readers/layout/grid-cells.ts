import { bandRows } from "./band-rows.js";
import { type Grid, parts } from "./find-grids.js";
import { SNAP } from "./join-rules.js";
import { cutSegments } from "./segments.js";
import { clearTitles } from "./titles-over-lines.js";
import type { Rule, Word } from "./word.js";
import { isMeasured, mergeWrapped } from "./wrapped-rows.js";

export interface GridCell {
  readonly row: number;
  readonly column: number;
  readonly rowSpan: number;
  readonly columnSpan: number;
  readonly words: Word[];
}

export interface GridCells {
  readonly cells: readonly GridCell[];
  /** Cells that are no rectangles, or words that lie across a line. */
  readonly irregular: boolean;
}

/** Fills the slots between the lines with words; slots without a line between them are one cell. */
export function fillGrid(drawn: Grid, words: readonly Word[]): GridCells {
  const grid = clearTitles(drawn, words);
  const { xs } = grid;
  const ys = addImpliedRows(grid, words);
  const owner = mergeSlots(grid, ys);
  const cells = new Map<number, { rows: number[]; columns: number[]; slots: number; words: Word[] }>();
  const columnCount = xs.length - 1;
  owner.forEach((root, slot) => {
    const cell = cells.get(root) ?? { rows: [], columns: [], slots: 0, words: [] };
    cell.rows.push(Math.floor(slot / columnCount));
    cell.columns.push(slot % columnCount);
    cell.slots++;
    cells.set(root, cell);
  });
  let irregular = false;
  for (const word of words) {
    const row = slotOf(ys, (word.top + word.bottom) / 2);
    const column = slotOf(xs, (word.left + word.right) / 2);
    const cell = cells.get(owner[row * columnCount + column]!)!;
    cell.words.push(word);
    irregular ||= liesAcross(word, xs[Math.min(...cell.columns)]!, xs[Math.max(...cell.columns) + 1]!);
  }
  const filled = [...cells.values()].map((cell): GridCell => {
    const [row, column] = [Math.min(...cell.rows), Math.min(...cell.columns)];
    const rowSpan = Math.max(...cell.rows) - row + 1;
    const columnSpan = Math.max(...cell.columns) - column + 1;
    irregular ||= rowSpan * columnSpan !== cell.slots && cell.words.length > 0;
    return { row, column, rowSpan, columnSpan, words: bandRows(cell.words).flat() };
  });
  return { cells: filled, irregular };
}

function slotOf(places: readonly number[], at: number): number {
  const index = places.findIndex((place, position) => position > 0 && at < place) - 1;
  return index < 0 ? Math.max(0, places.length - 2) : index;
}

function liesAcross({ left, right }: Word, from: number, to: number): boolean {
  return Math.min(right, to) - Math.max(left, from) < 0.7 * (right - left);
}

/**
 * Columns ruled, rows not: a band between two level lines holds several rows of writing. They are taken for rows of the table
 * where each of them reaches into at least half of the band's filled columns; else they are lines of one cell.
 */
function addImpliedRows({ xs, ys: ruled, uprights, rowEnds = [] }: Grid, words: readonly Word[]): number[] {
  const ended = [...ruled, ...rowEnds].sort((left, right) => left - right);
  const ys = addWhereUprightsEnd(ended, uprights);
  return ys.flatMap((top, index) => {
    const bottom = ys[index + 1];
    if (bottom === undefined) return [top];
    const inner = xs.filter((x) => parts(uprights, x, top, bottom));
    if (inner.length < 2) return [top];
    const inBand = words.filter((word) => within((word.top + word.bottom) / 2, top, bottom));
    const columnsOf = (row: readonly Word[]) => new Set(row.map((word) => slotOf(xs, (word.left + word.right) / 2)));
    const filled = columnsOf(inBand).size;
    const rows = mergeWrapped(bandRows(inBand).map(cutSegments)).map((row) => row.flatMap(({ words: own }) => own));
    const least = Math.min(...rows.map((row) => columnsOf(row).size));
    const isTable = rows.length > 1 && least >= 2 && (least >= filled / 2 || stacksValues(rows, xs));
    if (!isTable) return [top];
    const between = rows.slice(1).map((row, at) => (bottomOf(rows[at]!) + topOf(row)) / 2);
    return [top, ...between];
  });
}

/** Values under each other in a column are of several rows, however short the last row is. */
function stacksValues(rows: readonly (readonly Word[])[], xs: readonly number[]): boolean {
  const valued = rows.flatMap((row) =>
    cutSegments(row).flatMap((piece) => (isMeasured(piece) ? [slotOf(xs, (piece.left + piece.right) / 2)] : [])),
  );
  return new Set(valued).size < valued.length;
}

const LEAST_ROW = 6;

/** Uprights that leave out a title over several columns begin below it: there a row ends, though no line is drawn. */
function addWhereUprightsEnd(ys: readonly number[], uprights: readonly Rule[]): number[] {
  const ends = uprights.map(({ from }) => from).sort((left, right) => left - right);
  const places = [...ys];
  for (const end of ends) {
    const isShared = ends.filter((other) => Math.abs(other - end) <= SNAP).length >= 2;
    const isInside = end > ys[0]! && end < ys.at(-1)! && places.every((place) => Math.abs(place - end) >= LEAST_ROW);
    if (isShared && isInside) places.push(end);
  }
  return places.sort((left, right) => left - right);
}

function within(at: number, from: number, to: number): boolean {
  return at >= from && at < to;
}

function topOf(row: readonly Word[]): number {
  return Math.min(...row.map((word) => word.top));
}

function bottomOf(row: readonly Word[]): number {
  return Math.max(...row.map((word) => word.bottom));
}

/** For each slot, row by row, the first slot of its cell. */
function mergeSlots({ xs, ys: ruled, levels, uprights }: Grid, ys: readonly number[]): number[] {
  const columnCount = xs.length - 1;
  const owner = Array.from({ length: columnCount * (ys.length - 1) }, (_, slot) => slot);
  const find = (slot: number): number => {
    let root = slot;
    while (owner[root] !== root) root = owner[root]!;
    return root;
  };
  const join = (first: number, second: number) => {
    const [low, high] = [find(first), find(second)].sort((left, right) => left - right);
    owner[high!] = low!;
  };
  owner.forEach((_, slot) => {
    const row = Math.floor(slot / columnCount);
    const column = slot % columnCount;
    const [left, right, top, bottom] = [xs[column]!, xs[column + 1]!, ys[row]!, ys[row + 1]!];
    if (column + 1 < columnCount && !parts(uprights, right, top, bottom)) join(slot, slot + 1);
    const below = row + 2 < ys.length;
    if (below && ruled.includes(bottom) && !parts(levels, bottom, left, right)) join(slot, slot + columnCount);
  });
  return owner.map((_, slot) => find(slot));
}
