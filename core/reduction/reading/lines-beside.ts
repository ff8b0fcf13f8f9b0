import type { Cell } from "../../recogniser/cells.js";
import type { Grid } from "./grid.js";
import { filledCells, type HeaderLine, lineFrom, linesOfRow } from "./header-lines.js";
import { isSpelledUnit } from "./spelled-unit.js";

/** The columns of one specimen: from this one up to but not including that one. */
export interface ColumnRange {
  readonly from: number;
  readonly to: number;
}

export interface LinesBeside {
  /** For each range, what is said of its specimen: its own lines and those that hold for all. */
  readonly lines: readonly (readonly HeaderLine[])[];
  /** Rows whose values could not be told apart, by their first cell. */
  readonly unclear: readonly Cell[];
}

/**
 * Header lines above specimens that stand side by side. A row may name each one ("P1 | P2"), give a name and then a value over the
 * columns of each ("Width mm | 12.50 | | 12.48"), repeat name and value over each, or hold for all of them.
 */
export function readLinesBeside(grid: Grid, first: number, end: number, ranges: readonly ColumnRange[]): LinesBeside {
  const lines: HeaderLine[][] = ranges.map(() => []);
  const unclear: Cell[] = [];
  for (let row = first; row < end; row++) {
    const cells = filledCells(grid, row);
    if (cells.length === 0) continue;
    const found = linesOfEach(cells, ranges);
    if (!found) unclear.push(cells[0]!);
    for (const [index, own] of (found ?? []).entries()) lines[index]!.push(...own);
  }
  return { lines, unclear };
}

function linesOfEach(cells: readonly Cell[], ranges: readonly ColumnRange[]): HeaderLine[][] | undefined {
  const cellsOf = ranges.map(({ from, to }) => cells.filter(({ column }) => column >= from && column < to));
  if (cellsOf.every(([title, ...more]) => title && more.length === 0 && !isInline(title))) {
    return cellsOf.map(([title]) => [lineFrom("specimen", title!.text, "", title!)]);
  }
  return valueOverEach(cellsOf) ?? pairOverEach(cellsOf) ?? pairsForAll(cells, ranges);
}

/** One name at the left, then for each specimen a value, and maybe its unit, over its own columns. */
function valueOverEach([leftmost = [], ...others]: readonly (readonly Cell[])[]): HeaderLine[][] | undefined {
  const [name, ...first] = leftmost;
  const values = [first, ...others];
  const isValue = ([value, unit, ...more]: readonly Cell[]) =>
    value === undefined || (more.length === 0 && !isInline(value) && (!unit || isSpelledUnit(unit.text)));
  if (!name || isInline(name) || !values.every(isValue) || others.every((cells) => cells.length === 0))
    return undefined;
  return values.map(([value, unit]) => (value ? [lineFrom(name.text, value.text, unit?.text ?? "", value)] : []));
}

function pairOverEach(cellsOf: readonly Cell[][]): HeaderLine[][] | undefined {
  const lines = cellsOf.map(linesOfRow);
  const names = lines.map((own) => own.map(({ name }) => name).join());
  return names[0] !== "" && names.every((name) => name === names[0]) ? lines : undefined;
}

/** A pair whose name is a number is a value that nobody can place. */
function pairsForAll(cells: readonly Cell[], ranges: readonly ColumnRange[]): HeaderLine[][] | undefined {
  const lines = linesOfRow(cells);
  const names = new Set(lines.map(({ name }) => name));
  const isClear = names.size === lines.length && lines.every(({ name }) => !/^[+-−]?\d/.test(name));
  return isClear ? ranges.map(() => lines) : undefined;
}

function isInline({ text }: Cell): boolean {
  return /[:=]\s*\S/.test(text);
}
