import type { Block } from "./block.js";
import { type Column, isQuantityColumn } from "./columns.js";
import { doubt, type TableContext } from "./context.js";
import { type GridCell, rowCells } from "./grid.js";
import { tidy } from "./plain-text.js";
import { isNumeric, type TitleReader } from "./title-reader.js";

/**
 * Columns under a line of units or factors that could not be cut into columns: "x1000 x100 x1000" as one piece over C, Si and P.
 * Which of them is for which column is not known, and a value that looks possible without its factor is still wrong.
 */
export function findUnsplitUnits(context: TableContext, block: Block, columns: readonly Column[]): Set<number> {
  const covered = new Set<number>();
  for (const row of block.dataRows) {
    const cells = rowCells(block.grid, row);
    // Units stand between the titles and the first results.
    if (cells.some((cell) => isNumeric(cell.cell))) break;
    for (const cell of cells) {
      const under = columns.filter((column) => isQuantityColumn(column) && isUnder(column, cell));
      if (under.length < 2 || !isRowOfUnits(cell, context.titles)) continue;
      for (const { column } of under) covered.add(column);
      doubt(
        context,
        "units-unsplit",
        `Which of ${JSON.stringify(cell.cell.text)} is for which column is not certain; the values under it are not relied on.`,
        cell.cell.place,
      );
    }
  }
  return covered;
}

function isUnder({ column }: Column, cell: GridCell): boolean {
  return cell.column <= column && column < cell.column + cell.columnSpan;
}

function isRowOfUnits({ cell }: GridCell, titles: TitleReader): boolean {
  const words = tidy(cell.text).split(" ");
  const said = words.map((word) => titles.read(word));
  return words.length > 1 && said.every(({ unit, power, rest }) => rest === "" && (unit ?? power) !== undefined);
}
