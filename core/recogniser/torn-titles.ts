import type { Block } from "./block.js";
import { type Column, isQuantityColumn } from "./columns.js";
import { doubt, type TableContext } from "./context.js";
import { rowCells } from "./grid.js";
import { isNumeric, type TitleReader } from "./title-reader.js";

/**
 * Columns whose title was cut into pieces: beside "Elongation" over values stand "50" and "mm" over nothing. What a piece alone says
 * may be another quantity than the whole title does, here the elongation of no stated gauge length.
 */
export function findTornTitles(context: TableContext, block: Block, columns: readonly Column[]): Set<number> {
  const filled = new Set(block.dataRows.flatMap((row) => rowCells(block.grid, row).map(({ column }) => column)));
  const isPiece = (column: Column | undefined) =>
    column !== undefined && !filled.has(column.column) && saysNumberOrUnitOnly(column, context.titles);
  const torn = columns.filter((column, index) => {
    return isQuantityColumn(column) && (isPiece(columns[index - 1]) || isPiece(columns[index + 1]));
  });
  for (const { cells } of torn) {
    const title = cells.at(-1)?.cell;
    if (!title) continue;
    doubt(
      context,
      "title-torn",
      `The title ${JSON.stringify(title.text)} seems to be a part of a longer one; the values under it are not relied on.`,
      title.place,
    );
  }
  return new Set(torn.map(({ column }) => column));
}

function saysNumberOrUnitOnly({ cells }: Column, titles: TitleReader): boolean {
  return cells.length > 0 && cells.every(({ cell }) => isNumeric(cell) || isUnitOnly(cell.text, titles));
}

/** "%" is what elements are taken to be in without it, and other quantities are not read without their unit. */
function isUnitOnly(text: string, titles: TitleReader): boolean {
  const { unit, quantity, field, role, rest } = titles.read(text);
  return (
    unit !== undefined &&
    unit !== "%" &&
    rest === "" &&
    quantity === undefined &&
    field === undefined &&
    role === undefined
  );
}
