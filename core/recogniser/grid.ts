import type { Cell } from "./cells.js";

/** A cell where the layout logic sees it; a transposed grid keeps the cell and swaps the position. */
export interface GridCell {
  readonly row: number;
  readonly column: number;
  readonly rowSpan: number;
  readonly columnSpan: number;
  readonly cell: Cell;
}

export interface Grid {
  /** Rows that hold anything, top to bottom. */
  readonly rowNumbers: readonly number[];
  readonly rows: ReadonlyMap<number, readonly GridCell[]>;
}

export function makeGrid(cells: readonly Cell[]): Grid {
  return indexRows(
    cells
      .filter((cell) => cell.text !== "")
      .map((cell) => ({
        row: cell.row,
        column: cell.column,
        rowSpan: cell.rowSpan ?? 1,
        columnSpan: cell.columnSpan ?? 1,
        cell,
      })),
  );
}

/** The part of a grid between two corners, both included, turned so that its columns are rows. */
export function transposeRegion(grid: Grid, region: Region): Grid {
  const turned: GridCell[] = [];
  for (const row of grid.rowNumbers) {
    if (row < region.top || row > region.bottom) continue;
    for (const { column, rowSpan, columnSpan, cell } of grid.rows.get(row)!) {
      if (column < region.left || column > region.right) continue;
      turned.push({ row: column, column: row, rowSpan: columnSpan, columnSpan: rowSpan, cell });
    }
  }
  return indexRows(turned);
}

export interface Region {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

function indexRows(cells: readonly GridCell[]): Grid {
  const rows = new Map<number, GridCell[]>();
  for (const cell of cells) {
    const row = rows.get(cell.row);
    if (row) row.push(cell);
    else rows.set(cell.row, [cell]);
  }
  for (const row of rows.values()) row.sort((left, right) => left.column - right.column);
  return { rowNumbers: [...rows.keys()].sort((left, right) => left - right), rows };
}

export function rowCells(grid: Grid, row: number): readonly GridCell[] {
  return grid.rows.get(row) ?? [];
}

/** How far up a merged cell may begin and still be looked for: headers and grouped rows, not whole sheets. */
const LOOK_UP_ROWS = 60;

/** The cell that shows at a position: the one that begins there, or a merged one that reaches over it. */
export function cellAt(grid: Grid, row: number, column: number): GridCell | undefined {
  for (let above = row; above >= Math.max(0, row - LOOK_UP_ROWS); above--) {
    const found = rowCells(grid, above).find(
      (cell) => cell.column <= column && column < cell.column + cell.columnSpan && row < cell.row + cell.rowSpan,
    );
    if (found) return found;
  }
  return undefined;
}
