import type { Statement } from "../certificate/certificate.js";
import type { Cell } from "./cells.js";
import { type Context, doubt, statementOf } from "./context.js";
import { type Grid, type GridCell, rowCells } from "./grid.js";
import { tidy } from "./plain-text.js";
import { isTitleWord } from "./reads-as-title.js";
import type { Field, Title } from "./title.js";
import { isNumeric } from "./title-reader.js";

/** What stands outside the tables of results: "Heat No.: H4471", "Test temperature | -196 °C", "Weld metal". */
export interface Line {
  readonly row: number;
  readonly column: number;
  readonly field?: { readonly name: Field; readonly title: Title; readonly statement: Statement };
  /** A heading or remark, with what could be understood of it. */
  readonly heading?: { readonly title: Title; readonly cell: Cell };
}

/** Confidence of a heat's name whose end may stand in the next cell. */
const TORN = 0.5;
/** Values may stand a few columns away from their label on forms with wide cells. */
const VALUE_REACH_COLUMNS = 12;

export function readLines(context: Context, grid: Grid, isTaken: (cell: GridCell) => boolean): Line[] {
  const used = new Set<GridCell>();
  const lines: Line[] = [];
  for (const row of grid.rowNumbers) {
    for (const cell of rowCells(grid, row)) {
      if (used.has(cell) || isTaken(cell) || cell.cell.hidden || cell.cell.struck) continue;
      const fields = fieldsIn(context, grid, cell, isTaken, used);
      if (fields.length > 0) lines.push(...fields);
      else if (!isNumeric(cell.cell)) {
        lines.push({
          row,
          column: cell.column,
          heading: { title: context.titles.read(cell.cell.text), cell: cell.cell },
        });
      }
    }
  }
  return lines;
}

function fieldsIn(
  context: Context,
  grid: Grid,
  cell: GridCell,
  isTaken: (cell: GridCell) => boolean,
  used: Set<GridCell>,
): Line[] {
  const text = cell.cell.text;
  const lineOf = (title: Title, statement: Statement): Line => ({
    row: cell.row,
    column: cell.column,
    field: { name: title.field!, title, statement },
  });
  const inline = splitInline(context, text);
  if (inline.length > 0) {
    const isTorn = isHeatTorn(grid, cell, isTaken, inline);
    if (isTorn) {
      doubt(
        context,
        "heat-torn",
        `${JSON.stringify(text)} names a heat, and right behind it stand further figures that may belong to its name.`,
        cell.cell.place,
      );
    }
    return inline.map(({ title, value }) => {
      const statement = statementOf(context, cell.cell, value);
      const confidence = isTorn ? Math.min(statement.confidence, TORN) : statement.confidence;
      return lineOf(title, { ...statement, confidence, printed: value });
    });
  }
  const label = labelOf(context, text);
  if (!label) return [];
  const value = valueBeside(context, grid, cell, isTaken) ?? valueBelow(context, grid, cell, isTaken);
  // "Heat No." without a name: what follows is not of the heat before it, so the empty label itself is told.
  if (!value) return label.field === "heat" ? [lineOf(label, statementOf(context, cell.cell))] : [];
  used.add(value);
  const statement = statementOf(context, value.cell);
  return [lineOf(label, { ...statement, confidence: Math.min(statement.confidence, cell.cell.confidence) })];
}

/** "Heat # 755" beside "159": a name with a space in it that was cut in two. */
function isHeatTorn(
  grid: Grid,
  cell: GridCell,
  isTaken: (cell: GridCell) => boolean,
  inline: readonly { title: Title; value: string }[],
): boolean {
  const last = inline.at(-1)!;
  const next = rowCells(grid, cell.row).find(({ column }) => column > cell.column);
  if (last.title.field !== "heat" || !next || isTaken(next) || next.column > cell.column + cell.columnSpan)
    return false;
  return /^\d{2,}$/.test(next.cell.text) && /\d$/.test(last.value);
}

/** A cell that is a label alone, with or without a colon. */
function labelOf(context: Context, text: string): Title | undefined {
  const title = context.titles.read(text.replace(/\s*[:：]\s*$/, ""));
  return title.field && title.rest === "" && title.field !== "value" ? title : undefined;
}

/** "Heat No.: H4471", "Cert. No. 4711", several of them in one line of text included. */
export function splitInline(context: Context, text: string): { title: Title; value: string }[] {
  if (text.length > 400) return [];
  const found: { title: Title; value: string }[] = [];
  const parts = tidy(text).split(/\s*[:：]\s+|[:：](?=\S)/);
  for (let at = 0; at + 1 < parts.length; at++) {
    const label = trailingLabel(context, parts[at]!);
    if (!label) continue;
    const next = parts[at + 1]!;
    const following = at + 2 < parts.length ? trailingLabel(context, next) : undefined;
    const value = (following ? next.slice(0, next.length - following.words.length) : next).replace(/[,;\s]+$/, "");
    if (value !== "") found.push({ title: label.title, value });
  }
  return found.length > 0 ? found : splitWithoutColon(context, text);
}

/** The longest run of words at the end of a text that is a label. */
function trailingLabel(context: Context, text: string): { title: Title; words: string } | undefined {
  const words = text.split(" ");
  for (let from = Math.max(0, words.length - 6); from < words.length; from++) {
    const candidate = words.slice(from).join(" ");
    const title = labelOf(context, candidate);
    if (title) return { title, words: candidate };
  }
  return undefined;
}

const SPLIT_WITHOUT_COLON: ReadonlySet<Field> = new Set([
  "heat",
  "item",
  "certificate-number",
  "order",
  "date",
  "thickness",
  "temperature",
]);

function splitWithoutColon(context: Context, text: string): { title: Title; value: string }[] {
  const words = text.split(/\s+/);
  if (words.length < 2 || words.length > 8) return [];
  for (let at = words.length - 1; at >= 1; at--) {
    const title = labelOf(context, words.slice(0, at).join(" "));
    const value = words.slice(at).join(" ");
    if (!title || !SPLIT_WITHOUT_COLON.has(title.field!)) continue;
    // "Colata n. Provetta 1200" is a heat without a name before another title, and 1200 is not its name.
    const other =
      title.field === "heat" ? words.findIndex((word, index) => index < at && isOtherTitle(context, word)) : -1;
    if (other > 0) return [{ title, value: words.slice(other).join(" ") }];
    if (/\d/.test(words[at]!) || (title.field === "heat" && /^[A-Z]{1,3} \d[\w-]*$/.test(value)))
      return [{ title, value }];
  }
  return [];
}

function isOtherTitle(context: Context, word: string): boolean {
  const title = context.titles.read(word);
  // "Heat / Lot No.": papers that number pieces by their heats.
  return title.field !== "item" && isTitleWord(word, title);
}

function valueBeside(
  context: Context,
  grid: Grid,
  label: GridCell,
  isTaken: (cell: GridCell) => boolean,
): GridCell | undefined {
  const end = label.column + label.columnSpan;
  const next = rowCells(grid, label.row).find((cell) => cell.column >= end);
  if (!next || isTaken(next) || next.column - end > VALUE_REACH_COLUMNS) return undefined;
  // ":" by itself between label and value.
  if (/^[:：]$/.test(next.cell.text.trim())) {
    return rowCells(grid, label.row).find((cell) => cell.column > next.column);
  }
  return isLabel(context, next) ? undefined : next;
}

function valueBelow(
  context: Context,
  grid: Grid,
  label: GridCell,
  isTaken: (cell: GridCell) => boolean,
): GridCell | undefined {
  const below = rowCells(grid, label.row + label.rowSpan).find((cell) => cell.column === label.column);
  return below && !isTaken(below) && !isLabel(context, below) ? below : undefined;
}

function isLabel(context: Context, cell: GridCell): boolean {
  if (isNumeric(cell.cell)) return false;
  return labelOf(context, cell.cell.text) !== undefined || splitInline(context, cell.cell.text).length > 0;
}
