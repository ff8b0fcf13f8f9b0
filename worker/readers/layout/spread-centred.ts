import type { DraftCell } from "./table-draft.js";
import { isNumeric } from "./word.js";

/** A label stands in the middle of its rows to within this share of the distance between two rows. */
const TOLERANCE = 0.3;

/**
 * Merged cells without lines: a heat's name stands halfway down the rows that it is for, often between two of them. Where the
 * labels of a column cut all rows of values into groups, each with its label in the middle, the labels are given those rows;
 * where they don't, everything stays as it stands.
 */
export function spreadCentred(cells: readonly DraftCell[]): readonly DraftCell[] {
  const rows = valueRows(cells);
  if (rows.length < 3) return cells;
  const first = rows[0]!;
  const columns = new Set(cells.filter(({ column }) => column < first.column).map(({ column }) => column));
  const spread = new Map<DraftCell, DraftCell>();
  for (const column of columns) {
    const labels = cells.filter((cell) => cell.column === column && middleOf(cell) > first.middle - first.height);
    for (const [label, { from, to }] of tile(rows, labels)) {
      spread.set(label, { ...label, row: rows[from]!.row, rowSpan: rows[to]!.row - rows[from]!.row + 1 });
    }
  }
  return spread.size === 0
    ? cells
    : closeRows(
        cells.map((cell) => spread.get(cell) ?? cell),
        rows,
      );
}

interface ValueRow {
  readonly row: number;
  readonly column: number;
  readonly middle: number;
  readonly height: number;
}

/** Rows with a number in the column that has the most numbers. */
function valueRows(cells: readonly DraftCell[]): ValueRow[] {
  const counts = new Map<number, DraftCell[]>();
  for (const cell of cells) {
    if (!cell.words.every(({ text }) => isNumeric(text))) continue;
    counts.set(cell.column, [...(counts.get(cell.column) ?? []), cell]);
  }
  const most = [...counts.values()].sort((left, right) => right.length - left.length)[0] ?? [];
  return most.map((cell) => {
    const { top, bottom } = cell.words[0]!;
    return { row: cell.row, column: cell.column, middle: middleOf(cell), height: bottom - top };
  });
}

function middleOf({ words }: DraftCell): number {
  const top = Math.min(...words.map((word) => word.top));
  return (top + Math.max(...words.map((word) => word.bottom))) / 2;
}

type Tiles = readonly (readonly [label: DraftCell, rows: { readonly from: number; readonly to: number }])[];

/** Nothing where the labels' places don't come out even, or where a label would be left with a single row. */
function tile(rows: readonly ValueRow[], labels: readonly DraftCell[]): Tiles {
  if (labels.length === 0 || labels.length >= rows.length) return [];
  const pitch = (rows.at(-1)!.middle - rows[0]!.middle) / (rows.length - 1);
  const tiles: [DraftCell, { from: number; to: number }][] = [];
  let from = 0;
  for (const label of labels) {
    const centre = middleOf(label);
    const to = rows.findIndex(
      (row, index) => index >= from && Math.abs((rows[from]!.middle + row.middle) / 2 - centre) <= TOLERANCE * pitch,
    );
    if (to < 0) return [];
    tiles.push([label, { from, to }]);
    from = to + 1;
  }
  return from === rows.length && tiles.every(([, group]) => group.to > group.from) ? tiles : [];
}

/** Lines of labels alone are gone; the rows below move up, and spans shrink by the lines that were inside them. */
function closeRows(cells: readonly DraftCell[], rows: readonly ValueRow[]): DraftCell[] {
  const used = [...new Set(cells.map(({ row }) => row))].sort((left, right) => left - right);
  const positions = new Map(used.map((row, index) => [row, index]));
  const inside = (cell: DraftCell) => rows.filter(({ row }) => row >= cell.row && row < cell.row + cell.rowSpan).length;
  return cells
    .map((cell) => ({
      ...cell,
      row: positions.get(cell.row)!,
      rowSpan: cell.rowSpan > 1 ? Math.max(1, inside(cell)) : 1,
    }))
    .sort((left, right) => left.row - right.row || left.column - right.column);
}
