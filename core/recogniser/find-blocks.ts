import { isElement } from "../quantity/quantity.js";
import { type Block, isColumnField } from "./block.js";
import { findDown } from "./find-down.js";
import { type Grid, type GridCell, rowCells } from "./grid.js";
import { findHeaderBand } from "./header-band.js";
import { namesHeat } from "./names-heat.js";
import { saysAnalyses } from "./says-analyses.js";
import { splitBeside } from "./split-beside.js";
import { isNumeric, type TitleReader } from "./title-reader.js";

/** Finds the tables inside one sheet or page: first those with titles across, then those with titles down. */
export function findBlocks(grid: Grid, titles: TitleReader): Block[] {
  const across = findAcross(grid, titles);
  const taken = new Set(across.flatMap((block) => [...block.headerRows, ...block.dataRows]));
  return [...across, ...findDown(grid, titles, taken)].sort((left, right) => left.top - right.top);
}

/** Tells whether a cell belongs to one of the blocks. */
export function createBlockIndex(blocks: readonly Block[]): (cell: GridCell) => boolean {
  const byRow = new Map<number, Block[]>();
  for (const block of blocks) {
    for (let row = block.region.top; row <= block.region.bottom; row++)
      byRow.set(row, [...(byRow.get(row) ?? []), block]);
  }
  return ({ row, column }) =>
    (byRow.get(row) ?? []).some(({ turned, region }) => !turned || (region.left <= column && column <= region.right));
}

function findAcross(grid: Grid, titles: TitleReader): Block[] {
  const blocks: Block[] = [];
  const numbers = grid.rowNumbers;
  for (let at = 0; at < numbers.length; ) {
    const isHeader = isHeaderRow(rowCells(grid, numbers[at]!), titles) || isSinglesRow(grid, numbers[at]!, titles);
    const header = isHeader ? findHeaderBand(grid, numbers[at]!, titles) : undefined;
    if (!header) {
      at += 1;
      continue;
    }
    const last = header.at(-1)!;
    let end = numbers.indexOf(last) + 1;
    const dataRows: number[] = [];
    const measured = quantityColumns(grid, header, titles);
    const endsAt = (row: number, previous: number) =>
      endsBlock(grid, row, previous, titles) || isTitledItself(rowCells(grid, row), measured, titles);
    while (end < numbers.length && !endsAt(numbers[end]!, numbers[end - 1]!)) dataRows.push(numbers[end++]!);
    for (; dataRows.length > 0 && headsWhatFollows(grid, dataRows.at(-1)!, titles); end--) dataRows.pop();
    const block = blockOf(grid, header, dataRows, titles);
    blocks.push(...splitBeside(block, titles).filter((part) => hasRecords(part, titles)));
    at = end;
  }
  return blocks;
}

function quantityColumns(grid: Grid, header: readonly number[], titles: TitleReader): ReadonlySet<number> {
  const heads = header.flatMap((row) => rowCells(grid, row)).filter((cell) => titles.kindOf(cell.cell) === "quantity");
  return new Set(heads.map((cell) => cell.column));
}

/**
 * "Tensile ksi | 84.0 | Yield 0.2 % ksi | 36.1" right under a table of elements: a row that brings titles of its own where the
 * table has values, or is named after another quantity, is no row of that table. "P" may be short for product analysis.
 */
function isTitledItself(cells: readonly GridCell[], measured: ReadonlySet<number>, titles: TitleReader): boolean {
  const isTitle = ({ cell }: GridCell) =>
    cell.text.length > 1 && !isNumeric(cell) && titles.kindOf(cell) === "quantity";
  const [first, ...others] = cells;
  if (measured.size === 0 || !first) return false;
  if (others.some((cell) => measured.has(cell.column) && isTitle(cell))) return true;
  return isTitle(first) && !isElement(titles.read(first.cell.text).quantity!);
}

/** A row of titles with no row of values under it is a form's line, not a table. */
function hasRecords({ grid, headerRows, dataRows }: Block, titles: TitleReader): boolean {
  const isMeasured = (cell: GridCell) =>
    ["quantity", "detail"].includes(titles.kindOf(cell.cell)) || isNumeric(cell.cell);
  const measured = new Set(
    headerRows.flatMap((row) =>
      rowCells(grid, row)
        .filter(isMeasured)
        .map((cell) => cell.column),
    ),
  );
  // "l.45" is a value gone wrong: its table must not vanish with it.
  const isValue = (cell: GridCell) =>
    measured.has(cell.column) && /\d/.test(cell.cell.text) && cell.cell.text.length <= 24;
  return dataRows.some((row) => {
    const cells = rowCells(grid, row);
    return measured.size > 0 ? cells.some(isValue) : cells.length >= 2;
  });
}

function blockOf(grid: Grid, headerRows: readonly number[], dataRows: readonly number[], titles: TitleReader): Block {
  const cells = headerRows.flatMap((row) => rowCells(grid, row));
  const region = {
    top: headerRows[0]!,
    bottom: dataRows.at(-1) ?? headerRows.at(-1)!,
    left: Math.min(...cells.map((cell) => cell.column)),
    right: Math.max(...cells.map((cell) => cell.column + cell.columnSpan - 1)),
  };
  const labelColumn = findLabelColumn(cells, dataRows, grid, titles);
  return {
    grid,
    headerRows,
    dataRows,
    turned: false,
    ...(labelColumn !== undefined && { labelColumn }),
    top: region.top,
    region,
  };
}

/** "Element | C | Si" heads a column of row names, as does an empty corner; "Property | Value" does not. */
function findLabelColumn(
  header: readonly GridCell[],
  dataRows: readonly number[],
  grid: Grid,
  titles: TitleReader,
): number | undefined {
  const read = header.map((cell) => ({ column: cell.column, title: titles.read(cell.cell.text) }));
  if (!read.some(({ title }) => title.quantity) || read.some(({ title }) => title.field === "heat")) return undefined;
  const property = read.find(({ title }) => title.field === "property");
  if (property) return read.some(({ title }) => title.field === "value") ? undefined : property.column;
  const first = dataRows.reduce(
    (least, row) => Math.min(least, rowCells(grid, row)[0]!.column),
    Number.MAX_SAFE_INTEGER,
  );
  return header.some((cell) => cell.column <= first) ? undefined : first;
}

/** A row of titles: at least two, more of them than of anything else, and not each followed by its own value. */
function isHeaderRow(cells: readonly GridCell[], titles: TitleReader): boolean {
  const kinds = cells.map((cell) => (isNumeric(cell.cell) ? "number" : titles.kindOf(cell.cell)));
  const quantities = kinds.filter((kind) => kind === "quantity").length;
  const fields = cells.filter(
    (cell, index) => kinds[index] === "field" && isColumnField(titles.read(cell.cell.text)),
  ).length;
  if (quantities + fields < 2) return false;
  if (quantities === 0 && saysAnalyses(cells, titles)) return false;
  const titled = quantities + fields + kinds.filter((kind) => kind === "detail").length;
  if (titled * 3 < kinds.length) return false;
  // "Element | Unit | H4471 | H4472" heads columns of heats: that table runs down.
  if (namesHeats(cells, kinds, titles)) return false;
  const withValue = kinds.filter(
    (kind, index) => (kind === "quantity" || kind === "field") && isValueKind(kinds[index + 1], quantities),
  ).length;
  return withValue * 2 < quantities + fields;
}

function namesHeats(cells: readonly GridCell[], kinds: readonly string[], titles: TitleReader): boolean {
  const isProperty = (cell: GridCell) => titles.read(cell.cell.text).field === "property";
  return cells.some(isProperty) && cells.some((cell, index) => kinds[index] === "text" && /\d/.test(cell.cell.text));
}

/** In a list of fields ("Order | 45001 | Heat | H1") any text is a value; among quantities only a number is. */
function isValueKind(kind: string | undefined, quantities: number): boolean {
  return kind === "number" || (quantities === 0 && kind === "text");
}

/** The rows of a block end at the next header, at the heading of another group of tests, or at a line of labels ("Total weight:"). */
function endsBlock(grid: Grid, row: number, previous: number, titles: TitleReader): boolean {
  const cells = rowCells(grid, row);
  if (isHeaderRow(cells, titles) || isSinglesRow(grid, row, titles)) return true;
  const first = cells[0]!;
  const title = titles.read(first.cell.text.split(":")[0]!);
  // A row of numbers is a row of results, whatever its first word; nothing is left behind silently.
  if (cells.filter((cell) => isNumeric(cell.cell)).length > 1) return false;
  // Between the rows it goes on with another heat.
  if (cells.length === 1 && namesHeat(first, titles)) return false;
  if (cells.length === 1 && !isNumeric(first.cell)) {
    const isApart = row - previous > 1 && first.cell.text.split(" ").length >= 3;
    return titles.read(first.cell.text).group !== undefined || isApart;
  }
  const isLabel = title.rest === "" && title.field !== undefined && title.field !== "test" && title.role === undefined;
  return isLabel && (first.cell.text.includes(":") || titles.kindOf(first.cell) === "field");
}

/** "Heat No.: H4472" after the last values heads the next table, and no row of this one is under it. */
function headsWhatFollows(grid: Grid, row: number, titles: TitleReader): boolean {
  const cells = rowCells(grid, row);
  return cells.length === 1 && namesHeat(cells[0]!, titles);
}

/** "1 2 3 Average" under a heading that names the test: titles without a word on what is measured. */
function isSinglesRow(grid: Grid, row: number, titles: TitleReader): boolean {
  const cells = rowCells(grid, row);
  const pieceOf = (cell: GridCell) => titles.read(cell.cell.text).piece;
  const pieces = cells.filter((cell) => isNumeric(cell.cell) || pieceOf(cell) !== undefined);
  if (pieces.length < 2 || !pieces.every((cell, index) => pieceOf(cell) === String(index + 1))) return false;
  const words = cells.filter((cell) => !isNumeric(cell.cell));
  if (!words.every((cell) => titles.kindOf(cell.cell) !== "text")) return false;
  return rowCells(grid, row - 1).some((cell) => {
    const { group, quantity } = titles.read(cell.cell.text);
    return group === "impact" || group === "hardness" || quantity === "KV" || quantity === "Hardness";
  });
}
