import { type Column, isQuantityColumn } from "./columns.js";
import type { GridCell } from "./grid.js";
import { readNumber } from "./read-number.js";
import { hasStandard } from "./standards.js";
import type { TitleReader } from "./title-reader.js";

/** A row that prints what is asked for, not what was found: by its label, or by its values being ranges and bounds. */
export function isLimitRow(cells: readonly GridCell[], columns: readonly Column[], titles: TitleReader): boolean {
  const isQuantity = new Set(columns.filter(isQuantityColumn).map((column) => column.column));
  const labels = cells.filter((cell) => !isQuantity.has(cell.column));
  if (labels.some((cell) => isLimitLabel(cell, columns, titles))) return true;
  const values = cells
    .filter((cell) => isQuantity.has(cell.column))
    .map((cell) => readNumber(cell.cell.text, "unknown"));
  const limits = values.filter(
    (value) => value.kind === "limit" || (value.kind === "number" && isOpenBound(value.bound)),
  );
  const filled = values.filter((value) => value.kind !== "blank");
  return limits.length > 0 && limits.length * 2 >= filled.length && filled.length >= 2;
}

function isLimitLabel(cell: GridCell, columns: readonly Column[], titles: TitleReader): boolean {
  const title = titles.read(cell.cell.text);
  // "max", "A240 max", "min. 304L as ordered": but "max 4471" may be a heat of a mill of that name.
  const isWorded = title.rest.split(" ").length <= 3 && !/\d/.test(title.rest);
  if (title.role === "limit" && (isWorded || hasStandard(cell.cell.text))) return true;
  // A standard's name in front of a row ("EN 10028-7 1.4307") heads the limits that were asked for.
  const field = columns.find((column) => column.column === cell.column)?.title.field;
  if (field !== undefined && field !== "heat" && field !== "test" && field !== "item") return false;
  // "A1001" may be a heat's own name: only a standard with its body's name is taken for one.
  return hasStandard(cell.cell.text) && /\b(?:ASTM|ASME|EN|DIN|ISO|JIS|API|AWS|GB)\b/i.test(cell.cell.text);
}

function isOpenBound(bound: string | undefined): boolean {
  return bound === "<=" || bound === ">=" || bound === ">";
}
