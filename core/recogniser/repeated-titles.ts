import { kindOf } from "../quantity/quantity.js";
import type { Block } from "./block.js";
import { type Column, isQuantityColumn } from "./columns.js";
import { doubt, type TableContext } from "./context.js";
import { rowCells } from "./grid.js";
import { tidy } from "./plain-text.js";

/**
 * Columns of tensile results that stand in one row under one and the same title: what tells them apart (specimen, temperature,
 * direction) was lost or stood elsewhere, so which test a value is of, and how it was made, is not certain.
 */
export function findRepeatedTitles(context: TableContext, block: Block, columns: readonly Column[]): Set<number> {
  if (block.turned) return new Set();
  const alike = new Map<string, Column[]>();
  for (const column of columns.filter(isTensile)) {
    const title = titleOf(column);
    alike.set(title, [...(alike.get(title) ?? []), column]);
  }
  const repeated = [...alike.values()].filter((group) => isTwiceInARow(block, group)).flat();
  const head = repeated[0]?.cells.at(-1)?.cell;
  if (head) {
    doubt(
      context,
      "title-repeated",
      `The title ${JSON.stringify(head.text)} stands over several columns and nothing tells them apart; their values are not relied on.`,
      head.place,
    );
  }
  return new Set(repeated.map(({ column }) => column));
}

function isTensile(column: Column): boolean {
  const { quantity } = column.title;
  if (quantity === undefined || !isQuantityColumn(column)) return false;
  return kindOf(quantity) === "strength" || kindOf(quantity) === "elongation";
}

/** With the headings over it and the number of its piece, which may come from columns beside it. */
function titleOf({ cells, title }: Column): string {
  return [...cells.map(({ cell }) => tidy(cell.text)), title.piece ?? ""].join("\n");
}

function isTwiceInARow(block: Block, group: readonly Column[]): boolean {
  return block.dataRows.some((row) => {
    const filled = rowCells(block.grid, row).filter(({ column }) => group.some((one) => one.column === column));
    return filled.length > 1;
  });
}
