import type { Cell } from "../../recogniser/cells.js";
import type { Grid } from "./grid.js";
import { cellsOfRow } from "./grid.js";
import { isSpelledUnit } from "./spelled-unit.js";

/** One "name, value, unit" from the lines above a table. */
export interface HeaderLine {
  /** Lower case, without unit, prefix and closing colon: "Specimen properties : Width (mm)" gives "width". */
  readonly name: string;
  readonly value: string;
  readonly unit: string;
  /** The cell that holds the value. */
  readonly cell: Cell;
}

/** Names longer than this are sentences. */
const LONGEST_NAME = 100;

/** Reads the grid's rows from entry `first` up to but not including `end` as header lines. Several pairs may share a row. */
export function readHeaderLines(grid: Grid, end: number, first = 0): HeaderLine[] {
  const lines: HeaderLine[] = [];
  for (let row = first; row < end; row++) lines.push(...linesOfRow(filledCells(grid, row)));
  return lines;
}

export function filledCells(grid: Grid, row: number): Cell[] {
  return cellsOfRow(grid, row).filter(({ text }) => text !== "");
}

export function linesOfRow(cells: readonly Cell[]): HeaderLine[] {
  const lines: HeaderLine[] = [];
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i]!;
    const next = cells[i + 1];
    const inline = /^([^:=]+?)\s*[:=]\s*(\S.*)$/.exec(cell.text);
    // "Width: 12 mm" in one cell; "Specimen properties : Width" followed by its value is a name with a prefix.
    const valueFollows = next !== undefined && !/[:=]\s*\S/.test(next.text);
    if (inline && !(valueFollows && !/\d/.test(inline[2]!))) {
      lines.push(lineFrom(inline[1]!, inline[2]!, "", cell));
      continue;
    }
    if (!next) continue;
    const after = cells[i + 2];
    const unit = after && isSpelledUnit(after.text) ? after.text : "";
    lines.push(lineFrom(cell.text, next.text, unit, next));
    i += unit === "" ? 1 : 2;
  }
  return lines.filter(({ name }) => name !== "" && name.length <= LONGEST_NAME);
}

export function lineFrom(rawName: string, rawValue: string, rawUnit: string, cell: Cell): HeaderLine {
  const { name, unit: unitInName } = splitUnit(rawName.replace(/[:=]\s*$/, "").replace(/^.*[:=]\s*(?=\S)/, ""));
  const { value, unit: unitInValue } = splitValue(rawValue);
  return { name: name.toLowerCase().trim(), value, unit: rawUnit || unitInValue || unitInName, cell };
}

/** "Force [kN]", "Kraft / kN", "Load in N", "Stress (MPa)", "Force, kN": the name and the unit in it. */
export function splitUnit(text: string): { readonly name: string; readonly unit: string } {
  const match =
    /^(.*\S)\s*[([]\s*([^()[\]]*)\s*[)\]]\s*$/.exec(text) ??
    /^(.*\S)\s*(?:\s\/\s?|\s?\/\s|,\s*|\s+in\s+)(\S+)$/i.exec(text) ??
    /^(.*\S)\s+(\S+)$/.exec(text) ??
    /^([\p{L}\d]+)\/(\S+)$/u.exec(text);
  if (match && isSpelledUnit(match[2]!)) return { name: match[1]!, unit: match[2]! };
  return { name: text, unit: "" };
}

/** "12.5 mm" gives value and unit; anything that does not begin with a number is left whole. */
function splitValue(text: string): { readonly value: string; readonly unit: string } {
  const match = /^([+-−]?[\d.,]+(?:e[+-]?\d+)?)\s*(\D.*)$/i.exec(text.trim());
  if (match && isSpelledUnit(match[2]!)) return { value: match[1]!, unit: match[2]! };
  return { value: text.trim(), unit: "" };
}
