import { kindOf } from "../quantity/quantity.js";
import { type Block, isColumnField } from "./block.js";
import { type Grid, type GridCell, rowCells, transposeRegion } from "./grid.js";
import { namesHeat } from "./names-heat.js";
import { saysAnalyses } from "./says-analyses.js";
import type { Field } from "./title.js";
import { isNumeric, type TitleReader } from "./title-reader.js";

interface Run {
  readonly column: number;
  readonly rows: number[];
  quantities: number;
  /** Whether a value says its unit: then a single title is no chance word on a form. */
  stated: boolean;
}

/** Stacked titles with their values to the right: "C | 0.021", "Si | 0.45" …, one value column or several. */
export function findDown(grid: Grid, titles: TitleReader, taken: ReadonlySet<number>): Block[] {
  const open = new Map<number, Run>();
  const runs: Run[] = [];
  let previous = Number.NEGATIVE_INFINITY;
  for (const row of grid.rowNumbers) {
    const said = taken.has(row) ? [] : titlesWithValues(rowCells(grid, row), titles);
    // The "Product" of "Element | Ladle | Product | Ladle" begins no list of its own.
    const starts = said.length > 1 && saysAnalyses(rowCells(grid, row), titles) ? said.slice(0, 1) : said;
    const namesOther = (cell: GridCell) =>
      namesHeat(cell, titles) || (isHeatLabel(cell, titles) && !starts.some(({ column }) => column === cell.column));
    const reaches = row - previous <= 2 && !rowCells(grid, row).some(namesOther);
    previous = row;
    // "Element" heads what is under it: "Material | 304L" above is of another list.
    for (const { column, cell } of rowCells(grid, row)) {
      if (titles.read(cell.text).field === "property") open.delete(column);
    }
    for (const [column, run] of open) {
      if (!reaches || (row - run.rows.at(-1)! > 2 && !starts.some((start) => start.column === column)))
        open.delete(column);
    }
    for (const start of starts) {
      let run = open.get(start.column);
      if (!run || beginsAnew(grid, run, row, titles)) {
        run = { column: start.column, rows: [], quantities: 0, stated: false };
        open.set(start.column, run);
        runs.push(run);
      }
      run.rows.push(row);
      if (start.quantity) run.quantities += 1;
      if (start.quantity && start.stated) run.stated = true;
    }
  }
  const quantityRows = countQuantities(runs);
  return runs
    .filter((run) => run.quantities >= 1 && (quantityRows >= 2 || run.stated))
    .map((run) => leaveOutWide(grid, run))
    .map((run) => turn(grid, run, runs, taken, titles));
}

function isHeatLabel({ cell }: GridCell, titles: TitleReader): boolean {
  const { field, rest } = titles.read(cell.text);
  return field === "heat" && rest === "";
}

/** Said of the values below them: said again, they are of other tests. */
const SAID_ONCE: ReadonlySet<Field | undefined> = new Set([
  "heat",
  "temperature",
  "zone",
  "orientation",
  "specimen",
  "width",
  "striker",
  "analysis",
]);

/**
 * A second heat, temperature or zone, or the titles from the first one on again: the values of another heat or piece. "KV, LE, KV,
 * LE" are the pieces of one set.
 */
function beginsAnew(grid: Grid, { column, rows }: Run, row: number, titles: TitleReader): boolean {
  const textAt = (at: number) => rowCells(grid, at).find((cell) => cell.column === column)!.cell.text;
  const { field, quantity } = titles.read(textAt(row));
  if (SAID_ONCE.has(field) && rows.some((at) => titles.read(textAt(at)).field === field)) return true;
  const isPieceOfSet = quantity !== undefined && kindOf(quantity) === "impact";
  return !isPieceOfSet && textAt(rows[0]!) === textAt(row) && rows.some((at) => textAt(at) !== textAt(row));
}

/** A label on top that reaches over the values of the titles under it is none of them: "Heat No." above "C | 0.021". */
function leaveOutWide(grid: Grid, run: Run): Run {
  const [top, ...others] = run.rows;
  const label = rowCells(grid, top!).find(({ column }) => column === run.column)!;
  const isUnder = ({ column }: GridCell) => column > run.column && column < run.column + label.columnSpan;
  const isWide = others.length > 0 && others.every((row) => rowCells(grid, row).some(isUnder));
  return isWide ? { ...run, rows: others } : run;
}

function countQuantities(runs: readonly Run[]): number {
  return runs.reduce((sum, run) => sum + run.quantities, 0);
}

/** "560 MPa", "88 / 91 / 40 J": a value that says of what kind it is. */
function statesUnit({ cell }: GridCell, titles: TitleReader): boolean {
  const trailer = /^[\d.,/ ]+\s?(\D+)$/.exec(cell.text)?.[1];
  const title = trailer && titles.read(trailer);
  return title ? title.unit !== undefined && title.rest === "" : false;
}

interface TitleWithValue {
  readonly column: number;
  readonly quantity: boolean;
  readonly stated: boolean;
}

function titlesWithValues(cells: readonly GridCell[], titles: TitleReader): TitleWithValue[] {
  return cells.flatMap((cell, index) => {
    const kind = isNumeric(cell.cell) ? "number" : titles.kindOf(cell.cell);
    if (kind !== "quantity" && !(kind === "field" && isColumnField(titles.read(cell.cell.text)))) return [];
    const next = cells[index + 1];
    const nextKind = next && (isNumeric(next.cell) ? "number" : titles.kindOf(next.cell));
    if (!next || nextKind === "quantity" || nextKind === "field") return [];
    return [{ column: cell.column, quantity: kind === "quantity", stated: statesUnit(next, titles) }];
  });
}

/**
 * "Heat | H4471 | | H4472" over "Element | Ladle | Product | Ladle | Product", or a heat over each of several lists side by side. Over
 * one list alone it is a line of its own, which holds for what follows too.
 */
function namesHeatsAbove(
  grid: Grid,
  { column, rows, right, isBeside }: Run & { readonly right: number; readonly isBeside: boolean },
  titles: TitleReader,
): boolean {
  const above = rowCells(grid, rows[0]! - 1);
  const names = above.filter((cell) => cell.column > column && cell.column <= right);
  const isLabelled = above.some((cell) => cell.column === column && isHeatLabel(cell, titles));
  return isLabelled && (isBeside ? names.length > 0 : names.length > 1);
}

/** A label of words over the titles; "Element" and the like head them, and other titles head a table. */
function isFormLabel({ column, cell }: GridCell, run: Run, titles: TitleReader): boolean {
  if (column !== run.column || isNumeric(cell)) return false;
  const { field, quantity, group, role, analysis, rest } = titles.read(cell.text);
  return field !== "property" && (field !== "heat" || rest !== "") && !quantity && !group && !role && !analysis;
}

/** A column of units beside the titles, with or without "Unit" over it. */
function isUnitRow(cells: readonly GridCell[], top: number, titles: TitleReader): boolean {
  const values = cells.filter((cell) => cell.column >= top);
  return (
    values.length > 0 &&
    values.every((cell) => {
      const { unit, power, rest } = titles.read(cell.cell.text);
      return !isNumeric(cell.cell) && rest === "" && (unit !== undefined || power !== undefined);
    })
  );
}

function turn(grid: Grid, run: Run, runs: readonly Run[], taken: ReadonlySet<number>, titles: TitleReader): Block {
  const rows = new Set(run.rows);
  const neighbours = runs.filter((other) => other.column > run.column && other.rows.some((row) => rows.has(row)));
  const isBeside = runs.some((other) => other.column !== run.column && other.rows.some((row) => rows.has(row)));
  const right = Math.min(...neighbours.map((other) => other.column - 1), Number.MAX_SAFE_INTEGER);
  const top = run.rows[0]!;
  // The line above may name the value columns: "Element | H4471 | H4472".
  const isOfRun = runs.some((other) => other !== run && other.column === run.column && other.rows.includes(top - 1));
  const above = taken.has(top - 1) || isOfRun ? [] : rowCells(grid, top - 1);
  const corner = rowCells(grid, top).find((cell) => cell.column === run.column)!;
  const isNamed = titles.read(corner.cell.text).field === "property";
  const isOverValues = (cell: GridCell) => cell.column > run.column && cell.column <= right;
  // "Our reference | 4531182" above is a line of a form: its value names no column.
  const isForm = above.filter(isOverValues).length === 1 && above.some((cell) => isFormLabel(cell, run, titles));
  const namesColumns = !isNamed && !isForm && above.some(isOverValues);
  // Two lines: "Element | H4471 | H4471" and "| Ladle | Product" under it.
  const isDetail = namesColumns && above.filter(isOverValues).every((cell) => titles.kindOf(cell.cell) === "detail");
  const hasNamesAbove = isDetail && !taken.has(top - 2) && rowCells(grid, top - 2).some(isOverValues);
  const head = top - (hasNamesAbove ? 2 : namesColumns ? 1 : 0);
  const labelColumn = isNamed || namesColumns ? head : undefined;
  const hasHeatsAbove = isNamed && !taken.has(top - 1) && namesHeatsAbove(grid, { ...run, right, isBeside }, titles);
  const region = { top: hasHeatsAbove ? top - 1 : head, bottom: run.rows.at(-1)!, left: run.column, right };
  const turned = transposeRegion(grid, region);
  const isHead = (row: number) => row === run.column || isUnitRow(rowCells(turned, row), top, titles);
  return {
    grid: turned,
    headerRows: turned.rowNumbers.filter(isHead),
    dataRows: turned.rowNumbers.filter((row) => !isHead(row)),
    turned: true,
    ...(labelColumn !== undefined && { labelColumn }),
    top: region.top,
    region,
  };
}
