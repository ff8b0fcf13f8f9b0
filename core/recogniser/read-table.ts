import type { Table } from "./cells.js";
import { type Context, doubt, type TableContext } from "./context.js";
import { type DecimalSign, findDecimalSign } from "./decimal-sign.js";
import { type Block, findBlocks } from "./find-blocks.js";
import { type GridCell, makeGrid } from "./grid.js";
import { readBlock } from "./read-block.js";
import { type Line, readLines } from "./read-fields.js";
import type { ResultRow } from "./result-row.js";
import { gatherSurroundings, readField } from "./surroundings.js";
import { reportUnreadNumbers } from "./unread-numbers.js";

/** Ceiling for readings of a table whose two reconstructions did not agree: below the threshold, so they can't decide. */
const DISPUTED = 0.6;

/** What one sheet or page block holds, in reading order. */
export interface TableContent {
  readonly context: TableContext;
  readonly parts: readonly (
    | { readonly kind: "line"; readonly line: Line }
    | { readonly kind: "results"; readonly rows: readonly ResultRow[] }
  )[];
}

export function readTable(context: Context, table: Table, documentSign: DecimalSign): TableContent | undefined {
  if (table.hidden) {
    const first = table.cells[0];
    doubt(
      context,
      "sheet-hidden",
      `Sheet ${JSON.stringify(table.name)} is hidden and was not read; show it if it counts.`,
      first?.place,
    );
    return undefined;
  }
  const ownSign = findDecimalSign(printedTexts(table));
  const tableContext: TableContext = {
    ...context,
    tableName: table.name,
    decimalSign: ownSign === "unknown" ? documentSign : ownSign,
    confidence: table.disputed ? DISPUTED : 1,
  };
  if (table.disputed) {
    doubt(
      context,
      "table-disputed",
      `The columns of ${JSON.stringify(table.name)} could be rebuilt in two ways; its values need a person's look.`,
      table.cells[0]?.place,
    );
  }
  const grid = makeGrid(table.cells);
  const blocks = findBlocks(grid, context.titles);
  const lines = readLines(tableContext, grid, (cell) => blocks.some((block) => holds(block, cell)));
  reportUnreadNumbers(tableContext, grid, blocks, lines);
  const results = blocks.map((block, index) => {
    const above = lines.filter((line) => line.row < block.top || isFieldOfPage(line, block));
    const before = blocks.slice(0, index).map((other) => other.region.bottom);
    return {
      row: block.top,
      column: block.region.left,
      rows: readBlock(tableContext, block, gatherSurroundings(table.name, above, context.titles, before)),
    };
  });
  if (blocks.length > 0) reportDoubtfulFields(tableContext, lines);
  const parts = [
    ...lines.map((line) => ({ row: line.row, column: line.column, part: { kind: "line" as const, line } })),
    ...results.map(({ row, column, rows }) => ({ row, column, part: { kind: "results" as const, rows } })),
  ].sort((left, right) => left.row - right.row || left.column - right.column);
  return { context: tableContext, parts: parts.map(({ part }) => part) };
}

/** Texts whose decimal sign is the paper's own; a workbook's numbers carry none. */
export function printedTexts(table: Table): string[] {
  return table.cells.filter((cell) => cell.number === undefined).map((cell) => cell.text);
}

function reportDoubtfulFields(context: TableContext, lines: readonly Line[]): void {
  for (const { field } of lines) {
    if (!field || !readField(field, context.titles).doubtful) continue;
    const { printed, evidence } = field.statement;
    const message = `${JSON.stringify(printed)} is no known ${field.name}; the results under it are not relied on.`;
    context.doubts.push({ code: `${field.name}-unknown`, message, evidence });
  }
}

/** A field beside a block, on a form with two columns of boxes. */
function isFieldOfPage(line: Line, block: Block): boolean {
  return line.field !== undefined && line.row <= block.region.bottom;
}

function holds(block: Block, cell: GridCell): boolean {
  const { top, bottom, left, right } = block.region;
  if (cell.row < top || bottom < cell.row) return false;
  return !block.turned || (left <= cell.column && cell.column <= right);
}
