import { kindOf, type Quantity } from "../quantity/quantity.js";
import { dimensionOf } from "../quantity/unit.js";
import type { Block } from "./block.js";
import { contextOf, layTitle, resolveQuantity } from "./combine-titles.js";
import { cellAt, type GridCell, rowCells } from "./grid.js";
import type { Title } from "./title.js";
import { isNumeric, type TitleReader } from "./title-reader.js";
import { isSeries } from "./unread-numbers.js";

/** One column of a block with all that its titles say together. */
export interface Column {
  readonly column: number;
  readonly title: Title;
  /** The header cells that it rests on, top to bottom. */
  readonly cells: readonly GridCell[];
}

export function readColumns(block: Block, titles: TitleReader): Column[] {
  const { grid, headerRows } = block;
  const used = new Set<number>();
  for (const row of [...headerRows, ...block.dataRows]) for (const cell of rowCells(grid, row)) used.add(cell.column);
  const columns = [...used].sort((left, right) => left - right).map((column) => readColumn(block, column, titles));
  return completeSets(
    settleNumberedSingles(tellSilver(readLowerCase(testsAsResults(piecesAsItems(castAsHeat(columns)))))),
  );
}

/** "Cast | C | Si": over a column of names it is short for the cast's number; beside a row it is short for the cast analysis. */
function castAsHeat(columns: readonly Column[]): readonly Column[] {
  const [first, ...others] = columns;
  const isCast = first?.cells.length === 1 && /^casts?$/i.test(first.cells[0]!.cell.text.trim());
  if (!isCast || others.some(({ title }) => title.field === "heat")) return columns;
  return [{ ...first, title: { field: "heat", rest: "" } }, ...others];
}

const PIECES =
  /^(?:plates?|slabs?|coils?|sheets?|bars?|tafeln?|bleche?|tôles?|bobines?|lamier[ae]|chapas?|bobinas?)\.?$/i;

/** "Plate" over a column beside results: which piece each row is of. Elsewhere the word is a form of product. */
function piecesAsItems(columns: readonly Column[]): readonly Column[] {
  if (columns.some(({ title }) => title.field === "item") || !columns.some(isQuantityColumn)) return columns;
  const isPiece = ({ cells, title }: Column) =>
    title.quantity === undefined && cells.length > 0 && PIECES.test(cells.at(-1)!.cell.text.trim());
  const named = columns.filter(isPiece);
  if (named.length !== 1) return columns;
  return columns.map((column) => (column === named[0] ? { ...column, title: { field: "item", rest: "" } } : column));
}

/** "Property | Unit | Min | Max | Test 1 | Test 2": where rows are named after quantities, numbered tests hold their values. */
function testsAsResults(columns: readonly Column[]): readonly Column[] {
  const has = (field: Title["field"]) => columns.some(({ title }) => title.field === field);
  if (!has("property") || has("value") || columns.some(({ title }) => title.role === "result")) return columns;
  return columns.map((column) => {
    const { field, piece, rest } = column.title;
    if (field !== "test" || piece === undefined || rest !== "") return column;
    return { ...column, title: { ...column.title, field: "value", role: "result" } };
  });
}

function readColumn(block: Block, column: number, titles: TitleReader): Column {
  const { grid, headerRows } = block;
  const main = mainRow(block, titles);
  const cells: GridCell[] = [];
  let title: Title = { rest: "" };
  for (const row of headerRows) {
    const cell =
      cellAt(grid, row, column) ??
      (row < headerRows.at(-1)! ? spreadFrom(block, row, column, main, titles) : undefined);
    if (!cell || cells.includes(cell)) continue;
    cells.push(cell);
    const said = asTemperature(titles.read(cell.cell.text));
    // A heading over the whole table does not name what stands in a column without a title: "Weld metal" under "Charpy, J".
    const isHeading =
      row < main && rowCells(grid, row).length === 1 && cell.column <= column && !hasOwnTitle(block, column, main);
    title = layTitle(title, isHeading ? { ...contextOf(said), rest: said.rest } : said);
  }
  // "Schmelzen-" over "Nr.": a title broken into lines is read as one.
  if (title.rest !== "" && cells.length > 1) {
    const whole = asTemperature(titles.read(cells.map(({ cell }) => cell.text).join("\n")));
    if (whole.rest === "") title = whole;
  }
  // The corner over a list of elements ("Element", "Property") says nothing of the headings beside it.
  if (column === block.labelColumn && title.field !== "heat") return { column, title: { rest: "" }, cells };
  return { column, title: asTemperature(resolveQuantity(title)), cells };
}

function hasOwnTitle(block: Block, column: number, main: number): boolean {
  return block.headerRows.some((row) => row >= main && cellAt(block.grid, row, column) !== undefined);
}

/** A column in degrees that says nothing else is of test temperatures. */
function asTemperature(title: Title): Title {
  const isInDegrees = title.unit !== undefined && dimensionOf(title.unit) === "temperature";
  return isInDegrees && !title.quantity && !title.field ? { ...title, field: "temperature" } : title;
}

/** The header row with the most quantities: rows above it group, rows below it refine. A heading of one cell never is it. */
function mainRow({ grid, headerRows }: Block, titles: TitleReader): number {
  const wide = headerRows.filter((row) => rowCells(grid, row).length > 1);
  const candidates = wide.length > 0 ? wide : headerRows;
  const counts = candidates.map(
    (row) => rowCells(grid, row).filter((cell) => titles.kindOf(cell.cell) === "quantity").length,
  );
  return candidates[counts.indexOf(Math.max(...counts))]!;
}

/**
 * Where cells are not merged (CSV), a group title stands over its first column only and holds until the next title of its row.
 * A column with a title of its own in the main row and none of a group kept clear: "Heat" is not part of "Chemistry %".
 */
function spreadFrom(
  block: Block,
  row: number,
  column: number,
  main: number,
  titles: TitleReader,
): GridCell | undefined {
  const before = rowCells(block.grid, row).filter((cell) => cell.column <= column);
  const nearest = before.at(-1);
  // "Temperature °C" with nothing under it but values is the title of its own column, and of no other.
  if (nearest && isWholeTitle(block, nearest, titles)) return undefined;
  if (!nearest || (nearest.columnSpan > 1 && nearest.column + nearest.columnSpan <= column)) return undefined;
  // In the main row a title reaches over untitled neighbours only, whose row below counts the singles: "KV J" over 1, 2, 3, Ø.
  if (row >= main && !rowCells(block.grid, block.headerRows.at(-1)!).some((cell) => cell.column === column))
    return undefined;
  return nearest;
}

function isWholeTitle({ grid, headerRows }: Block, { row, column, cell }: GridCell, titles: TitleReader): boolean {
  const { field } = asTemperature(titles.read(cell.text));
  return field !== undefined && !headerRows.some((below) => below > row && cellAt(grid, below, column));
}

const LOWER_CASE: Readonly<Record<string, Quantity>> = { c: "C", p: "P", s: "S", n: "N", v: "V", b: "B", w: "W" };

/** "heat, c, si, mn, p, s": single small letters are elements only in the company of elements written small. */
function readLowerCase(columns: readonly Column[]): Column[] {
  const texts = columns.map(({ cells }) => cells.map((cell) => cell.cell.text.trim()).join(" "));
  const company = texts.filter((text) => /^(?:si|mn|cr|ni|mo|cu)$/.test(text)).length;
  if (company < 2) return [...columns];
  return columns.map((column, index) => {
    const quantity = LOWER_CASE[texts[index]!];
    return quantity && !column.title.quantity ? { ...column, title: { ...column.title, quantity, rest: "" } } : column;
  });
}

/**
 * "Ag" is the uniform elongation among tensile results, and silver among elements, which is no quantity here; next to both, and
 * under no heading that tells, it is neither for sure.
 */
function tellSilver(columns: readonly Column[]): Column[] {
  return columns.map((column, index) => {
    if (column.title.quantity !== "Ag") return column;
    const isMeasured = ({ title }: Column) => title.quantity !== undefined && title.quantity !== "Ag";
    const beside = [columns.slice(0, index).findLast(isMeasured), columns.slice(index + 1).find(isMeasured)];
    const kinds = new Set(beside.flatMap((other) => (other ? [kindOf(other.title.quantity!) === "chemistry"] : [])));
    const { quantity: _quantity, ...title } = column.title;
    if (title.group === "chemistry" || (kinds.size === 1 && kinds.has(true)))
      return { ...column, title: { ...title, field: "other" } };
    return kinds.size === 2 && title.group !== "tensile" ? { ...column, title: { ...title, rest: "Ag" } } : column;
  });
}

/** "KV1 KV2 KV3" are three singles; "KV2" by itself is energy with the 2 mm striker. */
function settleNumberedSingles(columns: readonly Column[]): Column[] {
  const isSeries = columns.some(({ title }) => title.quantity === "KV" && title.piece === "1" && !title.striker);
  return columns.map((column) => {
    const { strikerOrPiece, striker, ...title } = column.title;
    if (!strikerOrPiece || !isSeries || title.piece !== undefined) return column;
    return { ...column, title: { ...title, piece: String(striker) } };
  });
}

/** In a set, "Ø" and the later singles leave out what the first says: "KV 1 (J)", "2", "3", "Average". */
function completeSets(columns: readonly Column[]): Column[] {
  const completed: Column[] = [];
  for (const column of columns) {
    const left = completed.at(-1);
    completed.push(
      left && isSetMember(column.title) && isOpenSet(left.title) ? continueSet(left.title, column) : column,
    );
  }
  return completed;
}

function isSetMember(title: Title): boolean {
  return (
    title.rest === "" &&
    title.role === undefined &&
    !title.field &&
    (title.statistic !== undefined || title.piece !== undefined)
  );
}

function isOpenSet({ quantity, rest, role }: Title): boolean {
  if (!quantity || rest !== "" || role === "limit") return false;
  return kindOf(quantity) === "impact" || kindOf(quantity) === "hardness";
}

function continueSet(left: Title, column: Column): Column {
  const { quantity, unit } = column.title;
  if (quantity !== undefined && (quantity !== left.quantity || unit !== undefined)) return column;
  // A set that begins again at "1" is another set; what it is of, only its own heading can say.
  if (quantity === undefined && column.title.piece === "1" && (left.piece ?? left.statistic) !== undefined)
    return column;
  const { piece: _piece, statistic: _statistic, ...shared } = left;
  return { ...column, title: layTitle(shared, column.title) };
}

/** Whether the column holds measured values of a known quantity. */
export function isQuantityColumn({ title }: Column): boolean {
  return title.quantity !== undefined && title.rest === "" && title.role !== "limit";
}

export function hasNumbers(block: Block, column: number): boolean {
  return block.dataRows.some((row) =>
    rowCells(block.grid, row).some((cell) => cell.column === column && (isNumeric(cell.cell) || isSeries(cell.cell))),
  );
}
