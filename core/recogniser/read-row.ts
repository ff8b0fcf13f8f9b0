import type { Reading, Statement } from "../certificate/certificate.js";
import { describePlace } from "../certificate/evidence.js";
import { looksLikeHeat } from "../certificate/heat-number.js";
import { isPhysical } from "../quantity/physical-range.js";
import { kindOf } from "../quantity/quantity.js";
import type { Block } from "./block.js";
import type { Cell } from "./cells.js";
import { type Column, isQuantityColumn } from "./columns.js";
import { contextOf, layTitle, resolveQuantity } from "./combine-titles.js";
import { doubt, statementOf, type TableContext } from "./context.js";
import { describeMark, MARKED, splitMark } from "./footnotes.js";
import { cellAt, type GridCell, rowCells } from "./grid.js";
import { isLimitRow } from "./limit-row.js";
import { splitInline } from "./read-fields.js";
import { readValueCell } from "./read-value.js";
import { readsAsTitle } from "./reads-as-title.js";
import { isAdverse } from "./reservations.js";
import type { FieldStatement, ResultRow } from "./result-row.js";
import { fieldIn, type RowAttributes, readRowAttributes } from "./row-attributes.js";
import type { Title } from "./title.js";
import { isNumeric } from "./title-reader.js";
import { trustInWords } from "./trust-in-words.js";

export const NO_ATTRIBUTES: RowAttributes = { title: { rest: "" }, cells: [] };

export interface RowBefore {
  readonly row: number;
  readonly heat?: Statement;
  readonly item?: Statement;
  readonly attributes: RowAttributes;
  /** What lines between the rows have said so far: "Weld metal", "Product analysis". */
  readonly heading?: Title;
  /** As `heading`: "Heat No.: H4472". */
  readonly headingHeat?: Statement;
  /** A line between the rows named a heat that could not be read: the rows after it are of no known heat. */
  readonly isHeatLost?: true;
  /** A line between the rows said something of what follows, and could not be parted from other lines. */
  readonly isHeadingLost?: true;
}

interface RowToRead {
  readonly block: Block;
  readonly columns: readonly Column[];
  readonly surroundings: Title;
  readonly row: number;
  readonly before?: RowBefore;
  /** Columns whose labels can't be carried down from row to row. */
  readonly unanchored: ReadonlySet<number>;
  /** Columns whose unit, factor or whole title is not certain. */
  readonly unsplit: ReadonlySet<number>;
}

interface RowRead {
  readonly result?: { readonly result: ResultRow; readonly attributes: RowAttributes };
  readonly before?: RowBefore;
}

/** In letters: shorter words for places may be part of a heat's number. */
const SHORTEST_PLACE = 3;
/** Confidence of values whose heat is not printed beside them, but above or without the word "heat". */
const NOT_SAID_HERE = 0.9;
/** Confidence of a row that has a number where no title stands: titles and values may be out of step. */
const SHIFTED = 0.5;
/** Confidence of a row beside which the paper says "failed". */
const REMARKED = 0.5;
/** Confidence of a row whose label may be the one above it or the one below. */
const ADRIFT = 0.5;
/** Confidence of values under a line of units or factors that could not be cut into columns, under a piece of a title, or under one that is repeated. */
const UNSPLIT = 0.5;
/** Confidence of a heat's name that stands on two lines. */
const TWO_NAMES = 0.5;
/** Confidence of a row that nothing tells from a row of limits. */
const UNLABELLED = 0.6;

export function readRow(context: TableContext, input: RowToRead): RowRead {
  const { block, columns, row, before } = input;
  const cells = rowCells(block.grid, row);
  const visible = cells.filter((cell) => isVisible(context, cell, columns));
  const first = visible[0];
  if (!first) return {};
  const heading = visible.length === 1 ? readHeading(context, input, first) : undefined;
  if (heading) return { before: heading };
  // "continued 2/2" under the last heat names none.
  if (visible.length === 1 && /\s/.test(first.cell.text) && /(?<!\p{L})\p{Ll}{4}/u.test(first.cell.text)) {
    return before ? { before } : {};
  }
  const heatColumn = columns.find((column) => column.title.field === "heat");
  if (isLimitRow(visible, columns, context.titles)) {
    if (visible.some((cell) => /\d/.test(cell.cell.text))) reportLimits(context, visible);
    const name = block.turned && heatColumn ? cellAt(block.grid, row, heatColumn.column)?.cell : undefined;
    if (!name || !looksLikeHeat(name.text) || name.hidden || name.struck) return {};
    // "Heat | H4471" over "max | actual": the name stands over the first column only and is said of the next.
    return { before: { attributes: NO_ATTRIBUTES, ...before, row, heat: statementOf(context, name) } };
  }

  const said = heatOf(context, block, row, heatColumn, visible);
  const isUnreadable = said === "unreadable";
  const lost = isUnreadable ? afterUnreadable(context, input, heatColumn) : undefined;
  if (isUnreadable && !hasValues(visible, columns)) return lost ? { before: lost } : {};
  const own = isUnreadable ? undefined : said;
  const heat = isUnreadable ? undefined : (own ?? before?.headingHeat ?? before?.heat);
  const isSaidHere = (own !== undefined && heatColumn !== undefined) || before?.headingHeat !== undefined;
  const item = fieldStatement(context, block, row, columns, "item") ?? (own ? undefined : before?.item);
  const attributes = readRowAttributes(context, {
    block,
    columns,
    row,
    cells: visible,
    ...(own || !before ? {} : { above: before.attributes }),
  });
  const carried: RowBefore = {
    row,
    ...(before?.heading && { heading: before.heading }),
    ...(before?.headingHeat && { headingHeat: before.headingHeat }),
    ...(before?.isHeatLost && { isHeatLost: true as const }),
    ...(before?.isHeadingLost && { isHeadingLost: true as const }),
    ...(heat && { heat: own ?? before!.heat! }),
    ...(item && { item }),
    attributes,
  };

  const isUnnamed = (heatColumn || before?.isHeatLost) && !heat && !isUnreadable && hasValues(visible, columns);
  if (isUnnamed) {
    doubt(
      context,
      "row-without-heat",
      `A row of results names no heat (${first.cell.text} …); its values were given to none.`,
      first.cell.place,
    );
  }
  const isNamed = own !== undefined || (before?.headingHeat !== undefined && before.heat === undefined);
  const isUnlabelled =
    !isNamed && hasValues(visible, columns) && isOneOfMany(block, columns, row) && !hasLabel(visible, columns);
  if (isUnlabelled) {
    doubt(
      context,
      "row-unlabelled",
      `Nothing beside the row ${JSON.stringify(first.cell.text)} … says what it is; it could be a further test or limits.`,
      first.cell.place,
    );
  }
  const remark = visible.find(
    ({ column, cell }) =>
      !columns.some((other) => other.column === column && isQuantityColumn(other)) && isAdverse(cell.text),
  );
  if (remark && hasValues(visible, columns)) {
    doubt(
      context,
      "adverse-remark",
      `${JSON.stringify(remark.cell.text)} stands beside these results; what it is said of has to be seen on the paper.`,
      remark.cell.place,
      { heat: heat?.value },
    );
  }
  const isHeatLost = isUnreadable || isUnnamed;
  // That the row was given to no heat says enough of it.
  const values = isHeatLost ? { ...context, doubts: [] } : context;
  const isAdrift = [...input.unanchored].some((column) => !cellAt(block.grid, row, column));
  const isShifted = visible.some((cell) => isBesideTitles(cell, columns, block));
  const readings = columns
    .filter((column) => isQuantityColumn(column) || column.title.role === "result")
    .flatMap((column) => {
      const cell = visible.find((candidate) => candidate.column === column.column);
      if (!cell) return [];
      const around = before?.heading ? layTitle(input.surroundings, before.heading) : input.surroundings;
      const title = titleFor(around, column, attributesFor(column, columns, attributes.title));
      const basis = [...column.cells.map((header) => header.cell), ...attributes.cells];
      const isBare = isUnlabelled && title.quantity !== undefined && kindOf(title.quantity) !== "impact";
      const confidence = Math.min(
        isBare ? UNLABELLED : 1,
        isShifted ? SHIFTED : 1,
        remark ? REMARKED : 1,
        isAdrift || before?.isHeadingLost ? ADRIFT : 1,
        input.unsplit.has(column.column) ? UNSPLIT : 1,
        context.confidence,
        heat && !isSaidHere ? NOT_SAID_HERE : 1,
        ...basis.map((part) => trustInWords(part, context.titles)),
      );
      return readValueCell(values, { cell: cell.cell, title, confidence, heat: heat?.value }).map((reading) => ({
        ...reading,
        ...pieceOf(title, reading),
      }));
    })
    // "Total weight | 5600" under the last row of a table is no row of results.
    .filter(({ quantity, value, unit }) => !isHeatLost || isPhysical(quantity, value, unit));
  const fields = readFields(context, visible, columns);
  if (readings.length === 0 && fields.length === 0 && !own) return { before: lost ?? carried };
  const { test } = attributes;
  const result = {
    ...(heat && { heat }),
    ...(isHeatLost && { isHeatLost: true as const }),
    ...(item && { item }),
    ...(test !== undefined && { piece: test }),
    fields,
    readings,
    first: first.cell,
  };
  const after = isUnreadable ? lost : carried;
  return { ...(after && { before: after }), result: { result, attributes } };
}

/**
 * "H4471", "H4472" and "Retest" in one cell: lines that ran together, and the last of them may have been said of the rows that follow.
 * Undefined where nothing of the kind is in it: what stood before the row goes on.
 */
function afterUnreadable(
  context: TableContext,
  { block, row, before }: RowToRead,
  heatColumn: Column | undefined,
): RowBefore | undefined {
  const cell = heatColumn && cellAt(block.grid, row, heatColumn.column)?.cell;
  const isSaid = cell?.text.split("\n").some((line) => {
    const { rest, retest, zone, analysis } = context.titles.read(line);
    return rest === "" && (retest || zone || analysis);
  });
  return isSaid ? { attributes: NO_ATTRIBUTES, ...before, row, isHeadingLost: true } : undefined;
}

/**
 * A temperature that stands behind the tensile values of a row and before its impact values is that of the impact test: the tensile test
 * beside it was made in its own conditions.
 */
function attributesFor(column: Column, columns: readonly Column[], attributes: Title): Title {
  const isImpact = ({ title: { quantity } }: Column) => quantity !== undefined && kindOf(quantity) === "impact";
  const isOther = (other: Column) => isQuantityColumn(other) && !isImpact(other);
  const { temperature, ...others } = attributes;
  if (temperature === undefined || !isOther(column)) return attributes;
  const at = columns.find(({ title }) => title.field === "temperature")?.column ?? -1;
  const isBetween =
    columns.every((other) => !isOther(other) || other.column < at) &&
    columns.some(isImpact) &&
    columns.every((other) => !isImpact(other) || other.column > at);
  return isBetween ? others : attributes;
}

const TENSILE: ReadonlySet<string> = new Set(["strength", "elongation"]);

/** "Specimen 1 | Specimen 2" over groups of tensile columns: which piece a value is of. Singles of an impact set are one test. */
function pieceOf({ piece }: Title, { quantity }: Reading): Pick<Reading, "test"> {
  return piece !== undefined && TENSILE.has(kindOf(quantity)) ? { test: `piece ${piece}` } : {};
}

/** Hidden and struck cells are said and not read. */
function isVisible(context: TableContext, cell: GridCell, columns: readonly Column[]): boolean {
  if (!cell.cell.hidden && !cell.cell.struck) return true;
  const quantity = columns.find((column) => column.column === cell.column)?.title.quantity;
  doubt(
    context,
    cell.cell.struck ? "cell-struck" : "cell-hidden",
    `${JSON.stringify(cell.cell.text)} is ${cell.cell.struck ? "struck through" : "hidden"} and was not read${quantity ? ` as ${quantity}` : ""}.`,
    cell.cell.place,
  );
  return false;
}

function reportLimits(context: TableContext, cells: readonly GridCell[]): void {
  const { text, place } = cells[0]!.cell;
  context.notes.push(`${upperFirst(describePlace(place))}: limits (${text} …), not taken for results.`);
}

function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function heatOf(
  context: TableContext,
  block: Block,
  row: number,
  column: Column | undefined,
  visible: readonly GridCell[],
): Statement | undefined | "unreadable" {
  if (!column) return heatInHeading(context, block, row);
  const cell = cellAt(block.grid, row, column.column);
  if (!cell || cell.cell.hidden || cell.cell.struck) return undefined;
  const title = context.titles.read(cell.cell.text);
  // "Average" or "Product analysis" in the heat's column labels the row; the heat stands above.
  if (title.rest === "" && (title.statistic || title.analysis || title.zone)) return undefined;
  // "K71209 Weld" are two cells that were not cut apart, and no heat is called so.
  const isWithPlace = (title.location?.length ?? 0) >= SHORTEST_PLACE;
  // A number may be broken in two; more lines are the heats of several rows.
  const isOfSeveral = cell.cell.text.split("\n").length > 2;
  const isTitled = /\s/.test(cell.cell.text.trim()) && readsAsTitle(cell.cell.text, context.titles);
  if (looksLikeHeat(cell.cell.text) && !isWithPlace && !isOfSeveral && !isTitled) {
    const statement = statementOf(context, cell.cell);
    const isUnsure = mayBeTwo(cell.cell.text);
    if (isUnsure) doubtHeat(context, cell.cell, "it may be the heats of two rows");
    return { ...statement, confidence: Math.min(statement.confidence, context.confidence, isUnsure ? TWO_NAMES : 1) };
  }
  const { value, mark } = splitMark(cell.cell.text);
  if (mark !== undefined && looksLikeHeat(value) && !isTitled) {
    doubt(
      context,
      "heat-marked",
      `Heat ${JSON.stringify(cell.cell.text)} is ${describeMark(context.footnotes, mark)}; see what that says of its values.`,
      cell.cell.place,
      { heat: value },
    );
    return { ...statementOf(context, cell.cell, value), confidence: Math.min(MARKED, cell.cell.confidence) };
  }
  if (visible.some((other) => other !== cell && isNumeric(other.cell))) {
    doubtHeat(context, cell.cell, "its row was given to no heat");
  }
  return "unreadable";
}

/** Two lines that could each be a name by itself: one broken in two, or two of two rows. */
function mayBeTwo(text: string): boolean {
  const [first, second] = text.split("\n");
  return second !== undefined && looksLikeHeat(first!) && looksLikeHeat(second) && /\d\s*$/.test(first!);
}

function doubtHeat(context: TableContext, { text, place }: Cell, result: string): void {
  doubt(context, "heat-unreadable", `${JSON.stringify(text)} stands where a heat number should; ${result}.`, place);
}

/** "H4471" or "Heat H4471" over a column of values. */
function heatInHeading(context: TableContext, block: Block, row: number): Statement | undefined | "unreadable" {
  const cell = block.labelColumn === undefined ? undefined : cellAt(block.grid, row, block.labelColumn)?.cell;
  if (!cell || cell.hidden || cell.struck || context.titles.read(cell.text).rest === "") return undefined;
  const inline = splitInline(context, cell.text).find(({ title }) => title.field === "heat");
  const name = inline?.value ?? cell.text;
  if (!inline && (!looksLikeHeat(name) || name.length < 3)) return undefined;
  if (!readsAsTitle(name, context.titles)) return statementOf(context, cell, name);
  doubtHeat(context, cell, "its values were given to no heat");
  return "unreadable";
}

/** "Heat No.: H4472", "Weld metal", "Product analysis" on a line of its own between the rows. */
function readHeading(context: TableContext, input: RowToRead, { cell }: GridCell): RowBefore | undefined {
  const { row, before } = input;
  if (isNumeric(cell) || input.columns.length < 2) return undefined;
  const named = splitInline(context, cell.text).find(({ title }) => title.field === "heat");
  if (named) {
    const isHeat = looksLikeHeat(named.value) && !readsAsTitle(named.value, context.titles);
    if (!isHeat) doubtHeat(context, cell, "the rows under it were not read");
    return {
      row,
      ...(isHeat ? { headingHeat: statementOf(context, cell, named.value) } : { isHeatLost: true as const }),
      attributes: NO_ATTRIBUTES,
      ...(before?.heading && { heading: before.heading }),
    };
  }
  const title = context.titles.read(cell.text);
  const said = { ...contextOf(title), ...(title.retest && { retest: true }) };
  if (title.rest !== "" || Object.keys(said).length === 0 || title.role) return undefined;
  return { attributes: NO_ATTRIBUTES, ...before, row, heading: { ...said, rest: "" } };
}

/** A number without a title, to the right of titled values: one cell too many, or one title too few. */
function isBesideTitles(cell: GridCell, columns: readonly Column[], block: Block): boolean {
  const column = columns.find((candidate) => candidate.column === cell.column);
  if (!column || column.cells.length > 0 || column.column === block.labelColumn || !isNumeric(cell.cell)) return false;
  return columns.some((other) => other.column < cell.column && isQuantityColumn(other));
}

/** Whether other rows of the block hold results too, so that this one needs a word to tell what it is. */
function isOneOfMany(block: Block, columns: readonly Column[], row: number): boolean {
  return block.dataRows.some((other) => other !== row && hasValues(rowCells(block.grid, other), columns));
}

function hasLabel(cells: readonly GridCell[], columns: readonly Column[]): boolean {
  return cells.some((cell) => !columns.some((column) => column.column === cell.column && isQuantityColumn(column)));
}

function hasValues(cells: readonly GridCell[], columns: readonly Column[]): boolean {
  return cells.some(
    (cell) =>
      isNumeric(cell.cell) && columns.some((column) => column.column === cell.column && isQuantityColumn(column)),
  );
}

/** Surroundings, then the column's titles, then the row's own words: the nearer word counts. */
function titleFor(surroundings: Title, column: Column, rowTitle: Title): Title {
  const { quantity: _quantity, field: _field, role: _role, unit: _unit, power: _power, ...around } = surroundings;
  return resolveQuantity(layTitle(layTitle({ ...around, rest: "" }, column.title), rowTitle));
}

const STATED_FIELDS: ReadonlySet<string> = new Set([
  "grade",
  "standard",
  "form",
  "thickness",
  "size",
  "condition",
  "certificate-type",
  "certificate-number",
  "date",
  "test-date",
  "order",
  "issuer",
]);

function readFields(context: TableContext, visible: readonly GridCell[], columns: readonly Column[]): FieldStatement[] {
  const hasImpact = columns.some(({ title }) => title.quantity && kindOf(title.quantity) === "impact");
  return columns.flatMap(({ column, title }) => {
    const cell = visible.find((candidate) => candidate.column === column);
    const field = fieldIn(title.field, hasImpact);
    if (!cell || !field || !STATED_FIELDS.has(field)) return [];
    return [{ field, statement: withUnit(statementOf(context, cell.cell), title) }];
  });
}

/** "12" under "Thickness (mm)" is "12 mm". */
function withUnit(statement: Statement, title: Title): Statement {
  const isBare = /^[\d.,\s]+$/.test(statement.value);
  return isBare && title.unit ? { ...statement, value: `${statement.value} ${title.unit}` } : statement;
}

function fieldStatement(
  context: TableContext,
  block: Block,
  row: number,
  columns: readonly Column[],
  field: "item",
): Statement | undefined {
  const column = columns.find((candidate) => candidate.title.field === field);
  const cell: Cell | undefined = column && cellAt(block.grid, row, column.column)?.cell;
  return cell && !cell.hidden && !cell.struck ? statementOf(context, cell) : undefined;
}
