import type { Cell, Table } from "./cells.js";
import { isNumeric, type TitleReader } from "./title-reader.js";

const LEAST_COLUMNS = 3;

/**
 * A table that goes on over the page without its titles: the first table of the next page whose columns stand where those of the
 * last table before it stand, and whose first row is no row of titles, is the same table.
 */
export function joinContinuedTables(tables: readonly Table[], titles: TitleReader): Table[] {
  const joined: Table[] = [];
  for (const table of tables) {
    const index = joined.findLastIndex((candidate) => columnsOf(candidate).length >= LEAST_COLUMNS);
    const before = joined[index];
    const isNext = before && pageOf(table.cells[0]) === pageOf(before.cells.at(-1))! + 1;
    const isFirst = joined.slice(index + 1).every((between) => pageOf(between.cells[0]) !== pageOf(table.cells[0]));
    const columns = isNext && isFirst && !hasTitles(table, titles) ? matchColumns(before, table) : undefined;
    if (!before || !columns) {
      joined.push(table);
      continue;
    }
    const offset = Math.max(...before.cells.map(({ row, rowSpan = 1 }) => row + rowSpan));
    const top = Math.min(...table.cells.map(({ row }) => row));
    const moved = table.cells.map((cell) => ({
      ...cell,
      row: cell.row - top + offset,
      column: columns.get(cell.column)!,
    }));
    joined[index] = {
      ...before,
      cells: [...before.cells, ...moved],
      ...(table.disputed && { disputed: true }),
    };
  }
  return joined;
}

function hasTitles(table: Table, titles: TitleReader): boolean {
  const top = Math.min(...table.cells.map(({ row }) => row));
  const first = table.cells.filter(({ row }) => row === top);
  return !first.some(isNumeric) || first.filter((cell) => titles.kindOf(cell) === "quantity").length > 1;
}

/** Each column of the table to the one column of the other that stands over it; nothing where that is not plain. */
function matchColumns(before: Table, table: Table): Map<number, number> | undefined {
  const upper = columnsOf(before);
  const lower = columnsOf(table);
  if (lower.length < LEAST_COLUMNS || lower.length > upper.length || lower.length * 2 < upper.length) return undefined;
  const matches = new Map<number, number>();
  for (const { column, left, right } of lower) {
    const under = upper.filter((candidate) => candidate.left < right && left < candidate.right);
    if (under.length !== 1) return undefined;
    matches.set(column, under[0]!.column);
  }
  return new Set(matches.values()).size === matches.size ? matches : undefined;
}

interface Extent {
  readonly column: number;
  readonly left: number;
  readonly right: number;
}

function columnsOf({ cells }: Table): Extent[] {
  const extents = new Map<number, { left: number; right: number }>();
  for (const { place, column, columnSpan = 1 } of cells) {
    if (!("box" in place) || columnSpan > 1) continue;
    const [x, , width] = place.box;
    const known = extents.get(column) ?? { left: x, right: x + width };
    extents.set(column, { left: Math.min(known.left, x), right: Math.max(known.right, x + width) });
  }
  return [...extents].map(([column, extent]) => ({ column, ...extent }));
}

function pageOf(cell: Cell | undefined): number | undefined {
  return cell && "page" in cell.place ? cell.place.page : undefined;
}
