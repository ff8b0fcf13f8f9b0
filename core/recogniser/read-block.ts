import type { Cell } from "./cells.js";
import { type Column, hasNumbers, isQuantityColumn, readColumns } from "./columns.js";
import { doubt, type TableContext } from "./context.js";
import { distrustUnits } from "./distrust-units.js";
import type { Block } from "./find-blocks.js";
import { cellAt, rowCells } from "./grid.js";
import { type AttributedRow, nameTests } from "./name-tests.js";
import { type RowBefore, readRow } from "./read-row.js";
import type { ResultRow } from "./result-row.js";
import type { Title } from "./title.js";

/** Reads one block row by row. `surroundings` is what stood above it: "Impact test at -196 °C, weld metal". */
export function readBlock(context: TableContext, block: Block, surroundings: Title): ResultRow[] {
  const columns = readColumns(block, context.titles);
  reportUnknownColumns(context, block, columns);
  const results: AttributedRow[] = [];
  let before: RowBefore | undefined;
  for (const row of block.dataRows) {
    const isNextLine = before === undefined || row - before.row <= 1;
    const read = readRow(context, {
      block,
      columns,
      surroundings,
      row,
      ...(before && isNextLine && { before }),
    });
    before = read.before ?? (isNextLine ? before : undefined);
    if (read.result) results.push({ row, ...read.result });
  }
  return distrustUnits(nameTests(context, block, columns, results));
}

function reportUnknownColumns(context: TableContext, block: Block, columns: readonly Column[]): void {
  for (const column of columns) {
    const { title } = column;
    const understood = title.rest === "" && (title.quantity || title.field || title.role === "limit");
    const isLabel = column.column === block.labelColumn;
    if (isLabel || isQuantityColumn(column) || understood || !hasNumbers(block, column.column)) continue;
    const head = column.cells.at(-1)?.cell ?? firstNumberCell(block, column.column);
    const name = column.cells.map((cell) => cell.cell.text).join(" ");
    doubt(
      context,
      name === "" ? "column-unnamed" : "column-unknown",
      name === ""
        ? "Numbers stand in a column or row without a title; they were not read, and values beside them may be out of step."
        : `The title ${JSON.stringify(name)} is not known; the numbers under it were not read.`,
      head?.place,
    );
  }
}

function firstNumberCell(block: Block, column: number): Cell | undefined {
  for (const row of block.dataRows) {
    const cell = cellAt(block.grid, row, column);
    if (cell && rowCells(block.grid, row).includes(cell)) return cell.cell;
  }
  return undefined;
}
