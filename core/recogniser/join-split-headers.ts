import type { Cell, Table } from "./cells.js";
import type { CellKind, TitleReader } from "./title-reader.js";
import { isNumeric } from "./title-reader.js";

/** A line of group titles may stand this many of its own heights above the titles it belongs to. */
const REACH_IN_HEIGHTS = 2.5;

/**
 * On pages without ruling lines, a line of group titles ("KV -196 °C [J]" over 1 2 3 Ø) comes as a table of its own: its cells
 * share no edges with the columns below. This puts them back over the columns that need them, where the places leave no choice.
 */
export function joinSplitHeaders(tables: readonly Table[], titles: TitleReader): Table[] {
  const joined: Table[] = [];
  for (const table of tables) {
    const above = joined.at(-1);
    const parents = above && parentLine(above, table, titles);
    const spans = parents ? assign(parents, table, titles) : [];
    if (!above || !parents || spans.length === 0) {
      joined.push(table);
      continue;
    }
    const used = new Set(spans.map(({ parent }) => parent));
    joined[joined.length - 1] = { ...above, cells: above.cells.filter((cell) => !used.has(cell)) };
    const top = Math.min(...table.cells.map(({ row }) => row));
    const lifted = spans.map(
      ({ parent, column, columnSpan }): Cell => ({ ...parent, row: top, column, columnSpan, rowSpan: 1 }),
    );
    const lowered = table.cells.map((cell) => ({ ...cell, row: cell.row + 1 }));
    joined.push({
      ...table,
      cells: [...lifted, ...lowered].sort((left, right) => left.row - right.row || left.column - right.column),
    });
  }
  return joined;
}

/** The last line of the table above, if it is all titles and stands right over this table. */
function parentLine(above: Table, table: Table, titles: TitleReader): readonly Cell[] | undefined {
  const last = above.cells.at(-1)?.row;
  const line = above.cells.filter((cell) => cell.row === last);
  const first = table.cells[0];
  const boxes = [boxOf(line[0]), boxOf(first)];
  const [upper, lower] = boxes;
  if (line.length < 2 || !upper || !lower || upper.page !== lower.page) return undefined;
  const gap = lower.y - (upper.y + upper.height);
  if (gap < -upper.height || gap > REACH_IN_HEIGHTS * upper.height) return undefined;
  return line.every((cell) => !isNumeric(cell) && titles.kindOf(cell) !== "text") ? line : undefined;
}

interface Span {
  readonly parent: Cell;
  readonly column: number;
  readonly columnSpan: number;
}

/** Columns without a title of their own, and runs of titles that name no quantity ("1 2 3 Ø", "min max actual"), need a parent. */
function assign(parents: readonly Cell[], table: Table, titles: TitleReader): Span[] {
  const top = table.cells[0]!.row;
  const heads = new Map(table.cells.filter(({ row }) => row === top).map((cell) => [cell.column, cell]));
  const columns = [...new Set(table.cells.map(({ column }) => column))].sort((left, right) => left - right);
  const untitled = columns.filter((column) => !heads.has(column));
  const spans: Span[] = [];
  for (const column of untitled) {
    const under = parents.filter((parent) =>
      isOver(
        parent,
        table.cells.filter((cell) => cell.column === column),
      ),
    );
    if (under.length === 1) spans.push({ parent: under[0]!, column, columnSpan: 1 });
  }
  for (const run of runsOf(columns, (column) => needsParent(heads.get(column), titles))) {
    const cells = table.cells.filter((cell) => run.includes(cell.column));
    const over = parents.filter((parent) => isCentredOver(parent, cells));
    const size = run.length / over.length;
    const labels = run.map((column) => heads.get(column)!.text);
    if (over.length === 0 || !Number.isInteger(size) || !isPeriodic(labels, size)) continue;
    over.forEach((parent, index) => {
      spans.push({ parent, column: run[index * size]!, columnSpan: size });
    });
  }
  return spans;
}

function needsParent(head: Cell | undefined, titles: TitleReader): boolean {
  if (!head) return false;
  const kind: CellKind = titles.kindOf(head);
  const { field } = titles.read(head.text);
  return /^[1-9]$/.test(head.text.trim()) || kind === "detail" || field === "value";
}

function runsOf(columns: readonly number[], isPart: (column: number) => boolean): number[][] {
  const runs: number[][] = [];
  let open = false;
  for (const column of columns) {
    if (!isPart(column)) open = false;
    else if (open) runs.at(-1)!.push(column);
    else {
      runs.push([column]);
      open = true;
    }
  }
  return runs;
}

/** One group's labels, or the same labels over and over: only then can several parents share a run evenly. */
function isPeriodic(labels: readonly string[], size: number): boolean {
  return labels.every((label, index) => label === labels[index % size]);
}

function isCentredOver(parent: Cell, cells: readonly Cell[]): boolean {
  const box = boxOf(parent);
  const extent = extentOf(cells);
  if (!box || !extent) return false;
  const centre = box.x + box.width / 2;
  return extent.left <= centre && centre <= extent.right;
}

function isOver(parent: Cell, cells: readonly Cell[]): boolean {
  const box = boxOf(parent);
  const extent = extentOf(cells);
  return box !== undefined && extent !== undefined && box.x < extent.right && extent.left < box.x + box.width;
}

function extentOf(cells: readonly Cell[]): { left: number; right: number } | undefined {
  const boxes = cells.flatMap((cell) => boxOf(cell) ?? []);
  if (boxes.length === 0) return undefined;
  return { left: Math.min(...boxes.map(({ x }) => x)), right: Math.max(...boxes.map(({ x, width }) => x + width)) };
}

function boxOf(cell: Cell | undefined) {
  if (!cell || !("page" in cell.place)) return undefined;
  const [x, y, width, height] = cell.place.box;
  return { page: cell.place.page, x, y, width, height };
}
