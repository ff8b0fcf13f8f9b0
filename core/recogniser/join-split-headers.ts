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
  for (const drawn of tables) {
    const table = spanGroupTitles(drawn, titles);
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
    const titled = new Set(table.cells.filter(({ row }) => row === top).map(({ column }) => column));
    // A tall title over a column without one belongs to the line of titles; alone above it, it would be a heading.
    const lifted = spans.map(
      ({ parent, column, columnSpan }): Cell => ({
        ...parent,
        row: columnSpan === 1 && !titled.has(column) ? top + 1 : top,
        column,
        columnSpan,
        rowSpan: 1,
      }),
    );
    const lowered = table.cells.map((cell) => ({ ...cell, row: cell.row + 1 }));
    joined.push({
      ...table,
      cells: [...lifted, ...lowered].sort((left, right) => left.row - right.row || left.column - right.column),
    });
  }
  return joined;
}

/**
 * As `joinSplitHeaders`, where the line came with its table: a group title is drawn in the middle of its columns, and on a page
 * without lines only meets the one in the middle.
 */
function spanGroupTitles(table: Table, titles: TitleReader): Table {
  const rows = [...new Set(table.cells.map(({ row }) => row))].sort((left, right) => left - right).slice(0, 4);
  for (const [index, row] of rows.slice(1).entries()) {
    const heads = new Map(table.cells.filter((cell) => cell.row === row).map((cell) => [cell.column, cell]));
    const parents = table.cells.filter((cell) => cell.row === rows[index] && boxOf(cell));
    // A row that says more than titles do is a row of results.
    if (parents.some((cell) => isNumeric(cell) || titles.read(cell.text).rest !== "")) continue;
    const columns = [...heads.keys()].sort((left, right) => left - right);
    const spans = runsOf(columns, (column) => needsParent(heads.get(column), titles)).flatMap((run) => {
      const over = parents.filter((parent) =>
        isCentredOver(
          parent,
          run.map((column) => heads.get(column)!),
        ),
      );
      const groups = groupsOf(run, (column) => heads.get(column)!.text);
      // "[ksi] [ksi] [%]" with a title over each, or values with their titles, are no groups.
      const isOwned = run.every((column) => parents.some((parent) => parent.column === column));
      return run.length > 1 && !isOwned && groups.length === over.length
        ? over.map((parent, at) => ({ parent, group: groups[at]! }))
        : [];
    });
    if (spans.length === 0) continue;
    const spread = new Map(
      spans.map(({ parent, group }) => [parent, { ...parent, column: group[0]!, columnSpan: group.length }]),
    );
    return { ...table, cells: table.cells.map((cell) => spread.get(cell) ?? cell) };
  }
  return table;
}

/**
 * The last lines of the table above that are all titles and stand right over this table: one, or two where tall titles stand
 * halfway between the group titles and the line below.
 */
function parentLine(above: Table, table: Table, titles: TitleReader): readonly Cell[] | undefined {
  const rows = [...new Set(above.cells.map(({ row }) => row))].sort((left, right) => right - left);
  const found: Cell[] = [];
  let lower = table.cells[0];
  for (const row of rows.slice(0, 2)) {
    const line = above.cells.filter((cell) => cell.row === row);
    if (!isParentLine(line, lower, titles) || (found.length > 0 && line.some((cell) => isOver(cell, found)))) break;
    found.push(...line);
    lower = line[0];
  }
  return found.length < 2 ? undefined : found.sort((left, right) => (boxOf(left)?.x ?? 0) - (boxOf(right)?.x ?? 0));
}

function isParentLine(line: readonly Cell[], below: Cell | undefined, titles: TitleReader): boolean {
  const [upper, lower] = [boxOf(line[0]), boxOf(below)];
  if (!upper || !lower || upper.page !== lower.page) return false;
  const gap = lower.y - (upper.y + upper.height);
  if (gap < -upper.height || gap > REACH_IN_HEIGHTS * upper.height) return false;
  // "Notch" over "location" says nothing by itself and is no stranger either.
  return line.every((cell) => !isNumeric(cell) && titles.read(cell.text).rest === "");
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
    const groups = groupsOf(run, (column) => heads.get(column)!.text);
    if (over.length === 0 || groups.length !== over.length) continue;
    over.forEach((parent, index) => {
      spans.push({ parent, column: groups[index]![0]!, columnSpan: groups[index]!.length });
    });
  }
  const columnsTitled = columns.filter((column) => heads.has(column));
  spans.push(...overRepeats(parents, columnsTitled, heads));
  return spans.length === 0 ? [] : [...spans, ...firstLines(parents, spans, heads, table)];
}

/** Titles that begin again ("Rp0.2 Rm A" and again "Rp0.2 Rm A") need what tells their groups apart, one title over each. */
function overRepeats(parents: readonly Cell[], columns: readonly number[], heads: ReadonlyMap<number, Cell>): Span[] {
  const textOf = (at: number) => heads.get(columns[at]!)?.text;
  for (let length = Math.floor(columns.length / 2); length >= 2; length--) {
    for (let start = 0; start + 2 * length <= columns.length; start++) {
      let end = start + length;
      while (end < columns.length && textOf(end) === textOf(end - length)) end++;
      const groups = Math.floor((end - start) / length);
      if (groups < 2) continue;
      const spans = Array.from({ length: groups }, (_, index) => {
        const group = columns.slice(start + index * length, start + (index + 1) * length);
        const cells = group.map((column) => heads.get(column)!);
        const over = parents.filter((parent) => isCentredOver(parent, cells));
        return over.map((parent): Span => ({ parent, column: group[0]!, columnSpan: length }));
      });
      if (spans.every((found) => found.length === 1)) return spans.flat();
    }
  }
  return [];
}

/** The rest of the line, where each stands over one titled column: first lines of titles that were broken in two. */
function firstLines(
  parents: readonly Cell[],
  spans: readonly Span[],
  heads: ReadonlyMap<number, Cell>,
  table: Table,
): Span[] {
  const used = new Set(spans.map(({ parent }) => parent));
  return parents.flatMap((parent) => {
    if (used.has(parent)) return [];
    const under = [...heads.keys()].filter((column) =>
      isOver(
        parent,
        table.cells.filter((cell) => cell.column === column),
      ),
    );
    return under.length === 1 ? [{ parent, column: under[0]!, columnSpan: 1 }] : [];
  });
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

/** Each group begins with the label that the first begins with: "1 2 3 Ø" and again "1 2 3". */
function groupsOf(run: readonly number[], labelOf: (column: number) => string): number[][] {
  const groups: number[][] = [];
  for (const column of run) {
    if (groups.length === 0 || labelOf(column) === labelOf(run[0]!)) groups.push([column]);
    else groups.at(-1)!.push(column);
  }
  return groups;
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
