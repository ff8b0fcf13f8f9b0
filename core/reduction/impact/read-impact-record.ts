import { parseDecimal } from "../../quantity/decimal.js";
import type { Measure } from "../../quantity/measure.js";
import type { Cell, PlacedDoubt, Table } from "../../recogniser/cells.js";
import { cellsOfRow, type Grid, readGrid } from "../reading/grid.js";
import { readHeaderLines, splitUnit } from "../reading/header-lines.js";
import { readNumber } from "../reading/number-style.js";
import { isSpelledUnit, unitFactor } from "../reading/spelled-unit.js";
import { orientationFrom, scaleOf, zoneFrom } from "../tensile/read-specimen.js";
import { type ImpactColumn, impactColumn, isRaw, RAW_COLUMNS } from "./column-names.js";
import { readPendulum } from "./read-pendulum.js";
import type { ImpactPiece, ImpactRecord } from "./record.js";

/** No laboratory breaks more pieces in one sheet; a curve or a price list has more cells. */
const MOST_CELLS = 20_000;

/**
 * Reads one table as raw impact results: pendulum data in header lines, then a row for each piece with angles or heights, the four
 * readings of lateral expansion, or cleavage patches. Undefined for everything else, tables of finished results included.
 */
export function readImpactRecord(table: Table): ImpactRecord | undefined {
  if (table.cells.length > MOST_CELLS) return undefined;
  const grid = readGrid(table);
  const rows = grid.rowStarts.length - 1;
  for (let row = 0; row < rows; row++) {
    const columns = columnsOfRow(grid, row);
    if (!isRaw(columns.map(({ column }) => column))) continue;
    const read = readPieces(grid, row, columns);
    if (read.pieces.length === 0 && (columns.length < FEWEST_HEADINGS || hasFinished(columns))) continue;
    const described = readPendulum(readHeaderLines(grid, row), grid.decimalMark);
    return { ...described, ...read, place: grid.cells[grid.rowStarts[row]!]!.place };
  }
  return undefined;
}

/** Headings that make a sheet of pieces of a row in which nothing could be read: heats are named H2, too. */
const FEWEST_HEADINGS = 3;

/** Results of its own that the table may be read for where nothing raw in it can be. */
function hasFinished(columns: readonly HeadedColumn[]): boolean {
  return columns.some(({ column }) => column === "energy" || column === "expansion" || column === "shear");
}

interface HeadedColumn {
  readonly column: ImpactColumn;
  readonly at: number;
  readonly heading: string;
  readonly unit: string;
  readonly factor: number | undefined;
}

/** A unit may be in the heading or in the cell under it. A length, angle, energy or time without one is not used. */
function columnsOfRow(grid: Grid, row: number): HeadedColumn[] {
  const below = row + 2 < grid.rowStarts.length ? cellsOfRow(grid, row + 1) : [];
  const found: HeadedColumn[] = [];
  for (const cell of cellsOfRow(grid, row)) {
    const { name, unit: unitInHeading } = splitUnit(cell.text);
    const known = impactColumn(name);
    if (!known || found.some(({ column }) => column === known.column)) continue;
    const under = below.find((candidate) => candidate.column === cell.column && isSpelledUnit(candidate.text));
    const unit = unitInHeading || (under?.text ?? (known.column === "temperature" ? scaleIn(cell.text) : ""));
    const factor = known.dimension === undefined ? 1 : unitFactor(unit || defaultUnit(known.column), known.dimension);
    found.push({ column: known.column, at: cell.column, heading: cell.text, unit, factor });
  }
  return found;
}

/** "Temp K", "T (°F)": scales that stand for other things in other headings. */
function scaleIn(heading: string): string {
  return /[\s([](°?\s?[CFK])[)\]]?\s*$/.exec(heading)?.[1] ?? "";
}

/** Angles are read in degrees and pieces measured in mm by everyone; energy and height have more than one usual unit. */
function defaultUnit(column: ImpactColumn): string {
  if (column === "releaseAngle" || column === "riseAngle") return "°";
  if (column === "transfer") return "s";
  return ["width", "expansion", "half1", "half2", "half3", "half4", "patchWidth", "patchDepth"].includes(column)
    ? "mm"
    : "";
}

function readPieces(grid: Grid, headingRow: number, columns: readonly HeadedColumn[]) {
  const pieces: ImpactPiece[] = [];
  const doubts: PlacedDoubt[] = columns
    .filter(({ column, unit, factor }) => factor === undefined || (column === "temperature" && !scaleOf(unit)))
    .map(({ heading, unit }) => ({ code: "column-unit", message: unitMessage(heading, unit) }));
  for (let row = headingRow + 1; row < grid.rowStarts.length - 1; row++) {
    const cells = cellsOfRow(grid, row);
    if (row > headingRow + 1 && cells[0]!.row > grid.cells[grid.rowStarts[row - 1]!]!.row + 1) break;
    const piece = readPiece(grid, cells, columns);
    if (piece) pieces.push(piece);
    else if (pieces.length > 0) doubts.push(unreadRow(cells[0]!));
  }
  return { pieces, doubts };
}

function unitMessage(heading: string, unit: string): string {
  const what = unit === "" ? "has no unit" : `has a unit that does not fit it, "${unit}"`;
  return `The column "${heading}" ${what} and was not used. Write its unit under or beside the heading.`;
}

function unreadRow(cell: Cell): PlacedDoubt {
  return {
    code: "row-not-read",
    message: `A row that begins "${cell.text.slice(0, 40)}" has no readable swing.`,
    place: cell.place,
  };
}

function readPiece(grid: Grid, cells: readonly Cell[], columns: readonly HeadedColumn[]): ImpactPiece | undefined {
  const cellOf = (column: ImpactColumn) => {
    const at = columns.find((candidate) => candidate.column === column)?.at;
    return at === undefined ? undefined : cells.find((cell) => cell.column === at);
  };
  const number = (column: ImpactColumn) => {
    const headed = columns.find((candidate) => candidate.column === column);
    const cell = cellOf(column);
    if (!cell || headed?.factor === undefined) return undefined;
    const value = numberOf(cell, grid) * headed.factor;
    return Number.isFinite(value) ? value : undefined;
  };
  const raw = cells.find((cell) =>
    columns.some(({ column, at }) => RAW_COLUMNS.includes(column) && at === cell.column),
  );
  if (!raw || RAW_COLUMNS.every((column) => number(column) === undefined)) return undefined;

  const text = (column: ImpactColumn) => cellOf(column)?.text;
  const halves = [number("half1"), number("half2"), number("half3"), number("half4")] as const;
  const patch = [number("patchWidth"), number("patchDepth")] as const;
  const [releaseAngle, riseAngle] = [number("releaseAngle"), number("riseAngle")];
  const [releaseHeightM, riseHeightM] = [inMetres(number("releaseHeight")), inMetres(number("riseHeight"))];
  const placesOf = (...names: readonly ImpactColumn[]) =>
    names.flatMap((name) => (number(name) === undefined ? [] : [cellOf(name)!.place]));
  /** The raw readings, where they are all there or nothing else is. */
  const either = (raw: readonly ImpactColumn[], stated: ImpactColumn) => {
    const places = placesOf(...raw);
    return places.length === raw.length || number(stated) === undefined ? places : placesOf(stated);
  };
  const temperatureColumn = columns.find(({ column }) => column === "temperature");
  return defined({
    place: raw.place,
    places: {
      KV: either([riseAngle === undefined ? "riseHeight" : "riseAngle"], "energy"),
      LE: either(HALVES, "expansion"),
      SFA: either(["patchWidth", "patchDepth"], "shear"),
    },
    id: text("id"),
    heat: text("heat"),
    set: text("set"),
    zone: zoneFrom(text("zone") ?? ""),
    orientation: orientationFrom(text("orientation") ?? ""),
    temperature: temperatureFrom(cellOf("temperature"), temperatureColumn, grid),
    widthMm: number("width"),
    releaseAngle,
    releaseHeightM,
    swing: defined({ riseAngle, riseHeightM }),
    statedEnergyJ: number("energy"),
    expansion: halves.every((value) => value !== undefined)
      ? { side1: [halves[0]!, halves[1]!] as const, side2: [halves[2]!, halves[3]!] as const }
      : undefined,
    statedExpansionMm: number("expansion"),
    patchMm: patch[0] !== undefined && patch[1] !== undefined ? ([patch[0], patch[1]] as const) : undefined,
    statedShearPercent: number("shear"),
    transferSeconds: number("transfer"),
  });
}

const HALVES = ["half1", "half2", "half3", "half4"] as const;

function inMetres(millimetres: number | undefined): number | undefined {
  return millimetres === undefined ? undefined : millimetres / 1000;
}

function numberOf(cell: Cell, grid: Grid): number {
  return cell.number === undefined ? readNumber(cell.text, grid.decimalMark) : Number(cell.number);
}

function temperatureFrom(cell: Cell | undefined, column: HeadedColumn | undefined, grid: Grid): Measure | undefined {
  if (!cell || !column) return undefined;
  const printed = cell.number ?? (grid.decimalMark === "," ? cell.text.replace(",", ".") : cell.text);
  const value = parseDecimal(printed.replace("−", "-"));
  if (!value) return undefined;
  const unit = scaleOf(column.unit);
  return unit && { value, unit };
}

/** Without the entries that are undefined, as `exactOptionalPropertyTypes` wants it. */
function defined<T extends object>(values: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as never;
}
