import { CONFIDENCE_THRESHOLD } from "../certificate/certificate.js";
import { looksLikeHeat } from "../certificate/heat-number.js";
import type { Block } from "./block.js";
import type { Cell } from "./cells.js";
import { type Column, hasNumbers, isQuantityColumn, readColumns } from "./columns.js";
import { doubt, statementOf, type TableContext } from "./context.js";
import { distrustLetters } from "./distrust-letters.js";
import { distrustShifted } from "./distrust-shifted.js";
import { distrustUnits } from "./distrust-units.js";
import { cellAt, type GridCell, rowCells } from "./grid.js";
import { isLimitRow } from "./limit-row.js";
import { type AttributedRow, nameTests } from "./name-tests.js";
import { NO_ATTRIBUTES, type RowBefore, readRow } from "./read-row.js";
import { findRepeatedTitles } from "./repeated-titles.js";
import type { ResultRow } from "./result-row.js";
import type { Title } from "./title.js";
import { isNumeric } from "./title-reader.js";
import { findTornTitles } from "./torn-titles.js";
import { findUnsplitUnits } from "./unsplit-units.js";

/** Reads one block row by row. `surroundings` is what stood above it: "Impact test at -196 °C, weld metal". */
export function readBlock(context: TableContext, block: Block, surroundings: Title): ResultRow[] {
  const columns = readColumns(block, context.titles);
  reportUnknownColumns(context, block, columns);
  const isMisheard = columns.some(
    ({ title, cells }) =>
      title.rest !== "" &&
      // A column in degrees tells the temperature of its rows, or something else that its words would say.
      (title.field === "temperature" || cells.some(({ cell }) => cell.confidence < CONFIDENCE_THRESHOLD)),
  );
  const heard: Title = isMisheard ? { ...surroundings, misheard: true } : surroundings;
  const unanchored = findUnanchored(context, block, columns);
  const unsplit = new Set([
    ...findUnsplitUnits(context, block, columns),
    ...findTornTitles(context, block, columns),
    ...findRepeatedTitles(context, block, columns),
  ]);
  const results: AttributedRow[] = [];
  let before: RowBefore | undefined = nameOver(context, block);
  for (const row of block.dataRows) {
    const isNextLine = before === undefined || row - before.row <= 1;
    const read = readRow(context, {
      block,
      columns,
      surroundings: heard,
      row,
      unanchored,
      unsplit,
      ...(before && isNextLine && { before }),
    });
    before = read.before ?? (isNextLine ? before : undefined);
    if (read.result) results.push({ row, ...read.result });
  }
  const told = distrustLetters(context, block, columns, results);
  return distrustShifted(distrustUnits(nameTests(context, block, columns, told)));
}

/** "Heat | H4471" over a list that stands beside others. */
function nameOver(context: TableContext, { heat, dataRows }: Block): RowBefore | undefined {
  if (!heat || !looksLikeHeat(heat.text) || heat.hidden || heat.struck) return undefined;
  return { row: (dataRows[0] ?? 0) - 1, headingHeat: statementOf(context, heat), attributes: NO_ATTRIBUTES };
}

const CARRIED: ReadonlySet<string | undefined> = new Set(["heat", "zone", "temperature", "orientation", "specimen"]);

/**
 * Columns of labels whose first result has no label beside it: there the labels do not stand on the first of their rows but
 * somewhere among them, and a row without one may belong to the label above it or to the one below.
 */
function findUnanchored(context: TableContext, block: Block, columns: readonly Column[]): Set<number> {
  const isResult = (row: number) => {
    const cells = rowCells(block.grid, row);
    const isValue = (cell: GridCell) =>
      isNumeric(cell.cell) && columns.some((column) => column.column === cell.column && isQuantityColumn(column));
    return cells.some(isValue) && !isLimitRow(cells, columns, context.titles);
  };
  const first = block.dataRows.find(isResult);
  if (first === undefined) return new Set();
  const later = block.dataRows.filter((row) => row > first);
  const unanchored = columns.filter(({ column, title }) => {
    // Where titles run down, only a heat's name may have slipped off the first of its columns.
    const isCarried = block.turned ? title.field === "heat" : CARRIED.has(title.field);
    if (!isCarried || cellAt(block.grid, first, column)) return false;
    return later.some((row) => rowCells(block.grid, row).some((cell) => cell.column === column));
  });
  if (unanchored.length > 0) {
    doubt(
      context,
      "labels-between-rows",
      "The first results of a table have no label beside them, but later ones do: which rows a label is for is not certain.",
      rowCells(block.grid, first)[0]?.cell.place,
    );
  }
  return new Set(unanchored.map(({ column }) => column));
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
