import type { Block } from "./block.js";
import type { Cell, Table } from "./cells.js";
import { type Context, doubt, type TableContext } from "./context.js";
import { type DecimalSign, findDecimalSign } from "./decimal-sign.js";
import { createBlockIndex, findBlocks } from "./find-blocks.js";
import { makeGrid } from "./grid.js";
import { readBlock } from "./read-block.js";
import { type Line, readLines } from "./read-fields.js";
import type { ResultRow } from "./result-row.js";
import {
  beginSurroundings,
  hearLine,
  leaveBlock,
  readField,
  type Surroundings,
  surroundingTitle,
} from "./surroundings.js";
import { reportUnreadNumbers } from "./unread-numbers.js";

/** Ceiling for readings of a table whose two reconstructions did not agree: below the threshold, so they can't decide. */
const DISPUTED = 0.6;

/** Ceiling for results that the paper tells of other metal, or for information. */
const OF_OTHER = 0.3;

export interface TableInput {
  /** For tables that don't prove a decimal sign of their own. */
  readonly documentSign: DecimalSign;
  /** What the tables before it on the pages have said; undefined where each table stands alone, as sheets do. */
  readonly said?: Surroundings;
}

/** What one sheet or page block holds, in reading order. */
export interface TableContent {
  readonly context: TableContext;
  readonly parts: readonly (
    | { readonly kind: "line"; readonly line: Line }
    | { readonly kind: "results"; readonly rows: readonly ResultRow[] }
  )[];
  /** What has been said by the end of it. */
  readonly said: Surroundings;
}

export function readTable(context: Context, table: Table, input: TableInput): TableContent | undefined {
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
    decimalSign: ownSign === "unknown" ? input.documentSign : ownSign,
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
  const isInBlock = createBlockIndex(blocks);
  const lines = readLines(tableContext, grid, isInBlock);
  reportUnreadNumbers(tableContext, grid, isInBlock, lines);
  const { results, said } = readBlocks(
    tableContext,
    blocks,
    lines,
    input.said ?? beginSurroundings(table.name, context.titles),
  );
  if (blocks.length > 0) reportDoubtfulFields(tableContext, lines);
  const parts = [
    ...lines.map((line) => ({ row: line.row, column: line.column, part: { kind: "line" as const, line } })),
    ...results.map(({ row, column, rows }) => ({ row, column, part: { kind: "results" as const, rows } })),
  ].sort((left, right) => left.row - right.row || left.column - right.column);
  return { context: tableContext, parts: parts.map(({ part }) => part), said };
}

/** Reads the blocks from top to bottom, each with what was said above it and beside it. */
function readBlocks(context: TableContext, blocks: readonly Block[], lines: readonly Line[], start: Surroundings) {
  let said = start;
  let shared = start;
  let bottom = Number.NEGATIVE_INFINITY;
  let next = 0;
  const results = blocks.map((block) => {
    for (; next < lines.length && lines[next]!.row < block.top; next++)
      said = hearLine(said, lines[next]!, context.titles);
    // What was said above holds for all blocks that stand side by side under it.
    if (block.top > bottom) shared = said;
    bottom = Math.max(bottom, block.region.bottom);
    let here = shared;
    // A field beside the block, on a form with two columns of boxes.
    for (let at = next; at < lines.length && lines[at]!.row <= block.region.bottom; at++) {
      if (lines[at]!.field) here = hearLine(here, lines[at]!, context.titles);
    }
    const rows = distrustOther(context, here.ofOther, readBlock(context, block, surroundingTitle(here)));
    said = leaveBlock(said);
    return { row: block.top, column: block.region.left, rows };
  });
  for (; next < lines.length; next++) said = hearLine(said, lines[next]!, context.titles);
  return { results, said };
}

/** Results under "Results of earlier deliveries, for information only" are no results of this metal for sure. */
function distrustOther(
  context: TableContext,
  ofOther: Cell | undefined,
  rows: readonly ResultRow[],
): readonly ResultRow[] {
  if (!ofOther || rows.every(({ readings }) => readings.length === 0)) return rows;
  doubt(
    context,
    "results-of-other-metal",
    `${JSON.stringify(ofOther.text)} stands over these results; they are not relied on.`,
    ofOther.place,
  );
  return rows.map((row) => ({
    ...row,
    readings: row.readings.map((reading) => ({ ...reading, confidence: Math.min(reading.confidence, OF_OTHER) })),
  }));
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
