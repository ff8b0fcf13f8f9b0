import { isColumnField } from "./block.js";
import { type Grid, type GridCell, rowCells } from "./grid.js";
import { isNumeric, type TitleReader } from "./title-reader.js";

const PARENT_ROWS = 3;
const SUB_ROWS = 3;

/** The rows that together make the titles: group titles above the row found, units, singles and limits' names below it. */
export function findHeaderBand(grid: Grid, row: number, titles: TitleReader): number[] {
  const band = [row];
  const first = grid.rowNumbers.indexOf(row);
  for (let at = first - 1; at >= 0 && band.length <= PARENT_ROWS; at--) {
    const above = grid.rowNumbers[at]!;
    if (above !== band[0]! - 1 || !isParentRow(rowCells(grid, above), titles)) break;
    band.unshift(above);
  }
  for (let at = first + 1; at < grid.rowNumbers.length && at <= first + SUB_ROWS; at++) {
    const below = grid.rowNumbers[at]!;
    if (below !== band.at(-1)! + 1 || !isSubRow(rowCells(grid, below), rowCells(grid, band.at(-1)!), titles)) break;
    band.push(below);
  }
  return band;
}

function isParentRow(cells: readonly GridCell[], titles: TitleReader): boolean {
  return cells.every((cell) => !isNumeric(cell.cell) && titles.kindOf(cell.cell) !== "text");
}

/** "[%]  [%]  [MPa]", "x1000 x100", "1 2 3 Ø", "min max actual": words about the titles above, no values and no heats. */
function isSubRow(cells: readonly GridCell[], above: readonly GridCell[], titles: TitleReader): boolean {
  const refining = cells.filter((cell) => !isTitleBeside(cell, above, titles));
  return refining.length > 0 && isRefinement(refining, above, titles);
}

/** "Heat | Temp. | 1 | 2 | 3" under "Energy [J]" over the singles only: titles that stand on the lower line, beside the refinement. */
function isTitleBeside({ cell, column }: GridCell, above: readonly GridCell[], titles: TitleReader): boolean {
  const title = titles.read(cell.text);
  const isCovered = above.some((upper) => upper.column <= column && column < upper.column + upper.columnSpan);
  return !isCovered && !isNumeric(cell) && title.rest === "" && title.field !== undefined && isColumnField(title);
}

function isRefinement(cells: readonly GridCell[], above: readonly GridCell[], titles: TitleReader): boolean {
  const isOffset = (cell: GridCell) => /%/.test(cell.cell.text) && titles.read(cell.cell.text).offset !== undefined;
  const isNumber = (cell: GridCell) => isNumeric(cell.cell) && !isOffset(cell);
  const pieces = cells.filter(isNumber).map((cell) => cell.cell.text.trim().replace(/\.$/, ""));
  if (!pieces.every((piece) => /^[1-9]$/.test(piece)) || (pieces.length > 0 && !countsUp(pieces))) return false;
  const said = cells
    .filter((cell) => !isNumber(cell) && !continuesTitle(cell, above, titles))
    .map((cell) => titles.read(cell.cell.text));
  // "No." under "Heat" says nothing by itself; it must not stand alone.
  const isAbout =
    said.every((title) => title.rest === "" && !(title.field && title.field !== "value")) &&
    (said.length === 0 || said.some((title) => Object.keys(title).length > 1));
  // One word beside nothing else ("Average") labels a row of results that were not filled in.
  return isAbout && cells.length >= 2 && !isLimitLabelRow(cells, titles);
}

/** "coulée" under "N° de": the second line of a title that says nothing without it. */
function continuesTitle({ column, cell }: GridCell, above: readonly GridCell[], titles: TitleReader): boolean {
  const first = above.find((candidate) => candidate.column === column)?.cell.text;
  if (first === undefined || !titles.read(cell.text).field) return false;
  const { quantity, field } = titles.read(first);
  if (quantity || field) return false;
  const whole = titles.read(`${first} ${cell.text}`);
  return whole.rest === "" && whole.field !== undefined;
}

/** "1 2 3" or "1 2 3 1 2 3": numbered singles. */
function countsUp(pieces: readonly string[]): boolean {
  return (
    pieces.length >= 2 &&
    pieces[0] === "1" &&
    pieces.every((piece, index) => index === 0 || piece === "1" || Number(piece) === Number(pieces[index - 1]) + 1)
  );
}

/** "min" in front and nothing but units after it is a limits row without values, not a title. */
function isLimitLabelRow(cells: readonly GridCell[], titles: TitleReader): boolean {
  const [first, ...others] = cells;
  return (
    titles.read(first!.cell.text).role === "limit" &&
    others.every((cell) => titles.read(cell.cell.text).role === undefined)
  );
}
