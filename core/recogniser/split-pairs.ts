import type { Cell, Table } from "./cells.js";
import { tidy } from "./plain-text.js";
import { isNumeric, type TitleReader } from "./title-reader.js";

/** One word of a line, or a cell that is a title or a number as a whole and must not be taken apart. */
interface Token {
  readonly text: string;
  readonly cell: Cell;
  /** Where it begins in the cell's tidied text, from 0. */
  readonly at: number;
}

interface Pair {
  readonly title: readonly Token[];
  readonly value: readonly Token[];
}

const LONGEST_TITLE = 6;
const LONGEST_LINE = 400;
const VALUE = /^[<>≤≥]{0,2}\s?(?:\d+|\d*[.,]\d+)\s?(?:%|\p{L}[\p{L}/²2]{0,4})?[,;]?$/u;
const SERIES_SIGN = /^[/|]$/;

/** Whether a text's place is that of its first letter, as in plain text, or of its field. */
interface Placing {
  readonly byLetter: boolean;
}

/**
 * "C 0,019  Si 0,51  Mn 1,44" in an e-mail, "Rm: 580 N/mm²  A5: 52 %" on a page: lines in which each title has its value behind it
 * are no rows of the table that their words happen to line up with. Such lines become tables of their own, each title and each
 * value a cell; what stands above and below keeps its order.
 */
export function splitPairs(tables: readonly Table[], titles: TitleReader, placing: Placing): Table[] {
  return tables.flatMap((table) => splitTable(table, titles, placing));
}

/** How many titles of quantities with a value right behind them stand in a text. */
export function countPairs(cell: Cell, titles: TitleReader): number {
  const tokens = tokensOf(cell, titles);
  let count = 0;
  for (let at = 0; at < tokens.length; ) {
    const pair = pairAt(tokens, at, titles);
    if (pair) count += 1;
    at += pair ? pair.title.length + pair.value.length : 1;
  }
  return count;
}

function splitTable(table: Table, titles: TitleReader, placing: Placing): readonly Table[] {
  const parts: { readonly paired: boolean; readonly cells: Cell[] }[] = [];
  const add = (paired: boolean, cells: readonly Cell[]) => {
    const part = parts.at(-1);
    if (part?.paired === paired) part.cells.push(...cells);
    else parts.push({ paired, cells: [...cells] });
  };
  for (const row of rowsOf(table.cells)) {
    const split = splitRow(row, titles);
    if (!split) add(false, row);
    else {
      if (split.lead.length > 0) add(false, [cellOf(split.lead, 0, placing)]);
      add(
        true,
        split.pairs.flatMap(({ title, value }, index) => [
          cellOf(title, 2 * index, placing),
          cellOf(value, 2 * index + 1, placing),
        ]),
      );
    }
  }
  if (!parts.some(({ paired }) => paired)) return [table];
  // What was doubtful was the columns of the table; a line of pairs does not rest on them.
  const { disputed: _disputed, ...certain } = table;
  return parts.map(({ paired, cells }) => ({ ...(paired ? certain : table), cells }));
}

function rowsOf(cells: readonly Cell[]): Cell[][] {
  const rows = new Map<number, Cell[]>();
  for (const cell of cells) {
    const row = rows.get(cell.row);
    if (row) row.push(cell);
    else rows.set(cell.row, [cell]);
  }
  return [...rows.values()];
}

/** A line of pairs, with or without a label before them ("Ladle analysis: C 0.019 …"); undefined where it is anything else. */
function splitRow(row: readonly Cell[], titles: TitleReader): { lead: Token[]; pairs: Pair[] } | undefined {
  if (row.some((cell) => cell.number !== undefined || cell.text.length > LONGEST_LINE)) return undefined;
  const tokens = row.flatMap((cell) => tokensOf(cell, titles));
  const labelEnd = tokens.findIndex(({ text }) => text.endsWith(":")) + 1;
  const leadEnd = titles.read(textOf(tokens.slice(0, labelEnd))).quantity ? 0 : labelEnd;
  const pairs: Pair[] = [];
  for (let at = leadEnd; at < tokens.length; ) {
    const pair = pairAt(tokens, at, titles);
    if (!pair) return undefined;
    pairs.push(pair);
    at += pair.title.length + pair.value.length;
  }
  // A title in one cell and its value in the next is the layout of a table, and stays one.
  const isWithinCell = pairs.some(({ title, value }) => title.at(-1)!.cell === value[0]!.cell);
  const isStated = pairs.length > 1 || pairs.some(({ title }) => title.at(-1)?.text.endsWith(":"));
  return isWithinCell && isStated ? { lead: tokens.slice(0, leadEnd), pairs } : undefined;
}

function tokensOf(cell: Cell, titles: TitleReader): Token[] {
  const text = tidy(cell.text).replace(/\s*=\s*/g, ": ");
  if (isNumeric(cell) || titles.kindOf(cell) !== "text") return [{ text, cell, at: 0 }];
  return [...text.matchAll(/\S+/g)].map((word) => ({ text: word[0], cell, at: word.index }));
}

/** The longest run of words that is a title of a quantity and has a value behind it: "KV -196 °C: 88" before "KV -196". */
function pairAt(tokens: readonly Token[], from: number, titles: TitleReader): Pair | undefined {
  for (let end = Math.min(from + LONGEST_TITLE, tokens.length - 1); end > from; end--) {
    if (!VALUE.test(tokens[end]!.text)) continue;
    const title = titles.read(textOf(tokens.slice(from, end)).replace(/:$/, ""));
    if (!title.quantity || title.rest !== "") continue;
    return { title: tokens.slice(from, end), value: tokens.slice(end, findValueEnd(tokens, end, titles)) };
  }
  return undefined;
}

/** Behind a value: further ones of a set ("88 / 91 / 40") and its unit. */
function findValueEnd(tokens: readonly Token[], from: number, titles: TitleReader): number {
  let end = from + 1;
  while (SERIES_SIGN.test(tokens[end]?.text ?? "") && VALUE.test(tokens[end + 1]?.text ?? "")) end += 2;
  const unit = tokens[end] && titles.read(tokens[end]!.text.replace(/[,;]$/, ""));
  return unit?.unit && unit.rest === "" && !unit.quantity ? end + 1 : end;
}

function cellOf(tokens: readonly Token[], column: number, { byLetter }: Placing): Cell {
  const { cell, at } = tokens[0]!;
  const { rowSpan: _rows, columnSpan: _columns, ...plain } = cell;
  const place =
    byLetter && "line" in cell.place ? { ...cell.place, column: (cell.place.column ?? 1) + at } : cell.place;
  return { ...plain, text: textOf(tokens).replace(/[:,;]$/, ""), place, column };
}

function textOf(tokens: readonly Token[]): string {
  return tokens.map(({ text }) => text).join(" ");
}
