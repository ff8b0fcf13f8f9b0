import { isTypewriter, relativeGap, type Segment, toSegment } from "./segments.js";
import { isNumeric, type Word } from "./word.js";

/** The columns of a table without rules, found while its rows are taken in. */
export interface Columns {
  /** Takes the row in, or says that it belongs to another table. */
  accept(row: readonly Segment[]): boolean;
  /** Every piece stands in a column of its own, and most columns are met. */
  matches(row: readonly Segment[]): boolean;
  /** It stands within one column. */
  holds(segment: Segment): boolean;
  place(row: readonly Segment[]): { readonly pieces: readonly PlacedPiece[]; readonly disputed: boolean };
}

export interface PlacedPiece {
  readonly column: number;
  readonly columnSpan: number;
  readonly words: readonly Word[];
}

const SETTLED_ROWS = 3;

interface Span {
  readonly left: number;
  readonly right: number;
}

interface Column {
  left: number;
  right: number;
  /** Rows that have a piece in it. */
  rows: number;
}

/** Two words in one row may be cut apart late, when the columns show that they are two cells. */
const LATE_CUT_GAP = 0.25;
/** Between words rather than numbers: twice as wide as a space. */
const LATE_WORD_CUT_GAP = { other: 0.6, typewriter: 0.75 };
/** Cuts are wider than the spaces that stay. */
const CUT_TO_SPACE = 1.05;

export function createColumns(first: readonly Segment[]): Columns {
  let columns: Column[] = first.map(toColumn);
  let rows = 1;

  return {
    accept(row) {
      const split = fitRow(row, columns);
      if (!split) return false;
      // By then every column has been met; a piece between them belongs to other columns.
      if (rows >= SETTLED_ROWS && row.some((segment) => met(segment, columns).length === 0)) return false;
      rows++;
      if (split.size > 0) columns = splitColumns(row, columns, split);
      extend(row);
      return true;
    },
    matches(row) {
      const targets = row.map((segment) => met(segment, columns));
      const single = targets.filter((columnsMet) => columnsMet.length === 1).map(([column]) => column);
      return single.length === row.length && new Set(single).size === row.length && row.length >= columns.length / 2;
    },
    holds(segment) {
      return met(segment, columns).length === 1;
    },
    place(row) {
      const pieces = row.flatMap((segment) => cutLate(segment, columns)).map((segment) => placePiece(segment, columns));
      const taken = new Set<number>();
      let disputed = false;
      const merged: PlacedPiece[] = [];
      for (const piece of pieces) {
        const before = merged.at(-1);
        if (taken.has(piece.column) && before) {
          // Two pieces in one column: kept together, and said.
          merged[merged.length - 1] = { ...before, words: [...before.words, ...piece.words] };
          disputed = true;
          continue;
        }
        if (piece.columnSpan > 1 && piece.words.every(({ text }) => isNumeric(text))) disputed = true;
        for (let column = piece.column; column < piece.column + piece.columnSpan; column++) taken.add(column);
        merged.push(piece);
      }
      return { pieces: merged, disputed };
    },
  };

  /** Columns grow with their pieces, but never into a neighbour. */
  function extend(row: readonly Segment[]): void {
    for (const segment of row) {
      const [index, ...others] = met(segment, columns);
      if (others.length > 0) continue;
      if (index === undefined) {
        columns.push(toColumn(segment));
        columns.sort((left, right) => left.left - right.left);
        continue;
      }
      const column = columns[index]!;
      column.rows++;
      column.left = Math.max(Math.min(column.left, segment.left), (columns[index - 1]?.right ?? -Infinity) + 0.5);
      column.right = Math.min(Math.max(column.right, segment.right), (columns[index + 1]?.left ?? Infinity) - 0.5);
    }
  }
}

function toColumn({ left, right }: Span): Column {
  return { left, right, rows: 1 };
}

/**
 * Undefined where the row belongs to another table; else the columns that it shows to be several: a heading such as
 * "Yield strength" stands alone over "Rp0.2" and "Rp1.0".
 */
function fitRow(row: readonly Segment[], columns: readonly Column[]): ReadonlySet<number> | undefined {
  const targets = row.map((piece) => met(piece, columns));
  const claims = new Map<number, number>();
  for (const index of targets.flat()) claims.set(index, (claims.get(index) ?? 0) + 1);
  const split = new Set([...claims].filter(([, count]) => count > 1).map(([index]) => index));
  const isHeading = columns.every(({ rows }) => rows === 1);
  // Once a column has values in it, no later row can make two of it.
  if ([...split].some((index) => columns[index]!.rows > 2)) return undefined;
  if (!isHeading && split.size > columns.length / 2) return undefined;
  if (targets.some((columnsMet) => columnsMet.length > 1 && columnsMet.some((index) => split.has(index))))
    return undefined;

  const wide = targets.filter((columnsMet) => columnsMet.length > 1).length;
  const meeting = targets.filter((columnsMet) => columnsMet.length > 0).length;
  if (meeting < row.length / 2) return undefined;
  return row.length < columns.length || wide <= row.length / 3 ? split : undefined;
}

function splitColumns(row: readonly Segment[], columns: readonly Column[], split: ReadonlySet<number>): Column[] {
  const kept = columns.filter((_, index) => !split.has(index));
  const parts = row.filter((piece) => met(piece, columns).some((index) => split.has(index)));
  // `extend` counts the row itself.
  return [...kept, ...parts.map((piece) => ({ ...toColumn(piece), rows: 0 }))].sort(
    (left, right) => left.left - right.left,
  );
}

/** The columns that a piece stands in, by more than a touch. */
function met({ left, right }: Span, columns: readonly Column[]): number[] {
  return columns.flatMap((column, index) => {
    const shared = Math.min(right, column.right) - Math.max(left, column.left);
    return shared > 0.15 * Math.min(right - left, column.right - column.left) ? [index] : [];
  });
}

/** "H4471 0.024" over two columns is two cells; "Chemical composition" over two columns is one heading. */
function cutLate(segment: Segment, columns: readonly Column[]): Segment[] {
  if (met(segment, columns).length < 2) return [segment];
  const { words } = segment;
  const gaps = words.slice(1).map((word, index) => ({ at: index + 1, gap: relativeGap(words[index]!, word) }));
  const isCut = ({ at, gap }: { at: number; gap: number }) => {
    const [before, word] = [words[at - 1]!, words[at]!];
    const isOfWords = !isNumeric(before.text) && !isNumeric(word.text);
    const isOneWidth = isTypewriter([before, word]);
    if (gap < (!isOfWords ? LATE_CUT_GAP : isOneWidth ? LATE_WORD_CUT_GAP.typewriter : LATE_WORD_CUT_GAP.other))
      return false;
    const [here] = met(word, columns);
    const [there] = met(before, columns);
    return here !== undefined && there !== undefined && here !== there;
  };
  const cuts = gaps.filter(isCut);
  // "KV -196 °C [J]" has the same space between all of its words: one title.
  const widestSpace = Math.max(0, ...gaps.filter((gap) => !isCut(gap)).map(({ gap }) => gap));
  if (cuts.some(({ gap }) => gap < CUT_TO_SPACE * widestSpace)) return [segment];
  return [0, ...cuts.map(({ at }) => at)].map((from, index) => toSegment(words.slice(from, cuts[index]?.at)));
}

function placePiece(segment: Segment, columns: readonly Column[]): PlacedPiece {
  const columnsMet = met(segment, columns);
  const column = columnsMet[0] ?? nearest(segment, columns);
  return { column, columnSpan: Math.max(1, columnsMet.length), words: segment.words };
}

function nearest({ left, right }: Span, columns: readonly Column[]): number {
  const distances = columns.map((column) => Math.abs((column.left + column.right) / 2 - (left + right) / 2));
  return distances.indexOf(Math.min(...distances));
}
