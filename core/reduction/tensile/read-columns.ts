import { cellsOfRow, columnValues, type Grid, type NumberBlock } from "../reading/grid.js";
import { splitUnit } from "../reading/header-lines.js";
import { type RecordDimension, unitFactor } from "../reading/spelled-unit.js";
import { type ColumnGroup, groupColumns, isCurve, type KnownColumn } from "./column-groups.js";
import { type ColumnKind, columnKind } from "./column-names.js";
import { EVERYTHING } from "./curve-doubt.js";
import type { RecordDoubt, TensileColumns } from "./record.js";

export interface ReadColumns {
  /** One for each test piece whose columns stand in the block. */
  readonly pieces: readonly PieceColumns[];
  /** Entry of the grid's rows with the headings: header lines end there. */
  readonly headingRow: number;
}

export interface PieceColumns {
  readonly columns: TensileColumns;
  /** Its first column in the table. */
  readonly from: number;
  readonly notes: readonly string[];
  readonly doubts: readonly RecordDoubt[];
}

interface Heading {
  readonly column: number;
  readonly kind: ColumnKind;
  readonly name: string;
  readonly unit: string;
}

/** Headings stand at most this many rows above the numbers: a name, a unit, perhaps a channel. */
const HEADING_ROWS = 4;

/** Finds the headings of a block of numbers, not above `after`, and reads its columns; undefined where they are not those of a tensile curve. */
export function readColumns(grid: Grid, block: NumberBlock, after: number): ReadColumns | undefined {
  for (let row = block.first - 1; row >= Math.max(after, block.first - HEADING_ROWS); row--) {
    const headings = headingsOfRow(grid, row, block.first);
    if (isCurve(headings)) return { pieces: readPieces(grid, block, headings), headingRow: row };
  }
  return undefined;
}

function headingsOfRow(grid: Grid, row: number, blockRow: number): Heading[] {
  return cellsOfRow(grid, row).flatMap((cell) => {
    const { name, unit } = splitUnit(cell.text);
    const kind = columnKind(name);
    if (!kind) return [];
    const below = unit === "" ? unitBelow(grid, row, blockRow, cell.column) : unit;
    return [{ column: cell.column, kind, name: cell.text, unit: below }];
  });
}

function unitBelow(grid: Grid, row: number, blockRow: number, column: number): string {
  for (let below = row + 1; below < blockRow; below++) {
    const cell = cellsOfRow(grid, below).find((candidate) => candidate.column === column);
    if (cell && cell.text !== "") return cell.text;
  }
  return "";
}

const DIMENSIONS: Readonly<Record<ColumnKind, RecordDimension>> = {
  time: "time",
  force: "force",
  stress: "stress",
  strain: "strain",
  extension: "length",
  crosshead: "length",
};

function readPieces(grid: Grid, block: NumberBlock, headings: readonly Heading[]): PieceColumns[] {
  const known: KnownColumn[] = [];
  const notes: string[] = [];
  const doubts: RecordDoubt[] = [];
  for (const heading of headings) {
    const read = kindAndFactor(heading);
    if (!read) {
      doubts.push(unitMissing(heading, grid, block));
      continue;
    }
    if (read.note) notes.push(read.note);
    known.push({ column: heading.column, name: heading.name, kind: read.kind, factor: read.factor });
  }
  const groups = groupColumns(known);
  const sharedTime = groups[0]?.columns.find(({ kind }) => kind === "time");
  return groups.map((group) => {
    const aside = leftAside(grid, block, group);
    return {
      columns: namedColumns(grid, block, group, sharedTime),
      from: Math.min(...group.columns.map(({ column }) => column)),
      notes: [...notes, ...aside.notes],
      doubts: [...doubts, ...aside.doubts],
    };
  });
}

/** Two columns of one force may differ by this much of the highest, through rounding in the export. */
const SAME_LOAD_SHARE = 0.005;

/** A second extensometer is no trouble; a second force that is another force leaves open which one is the piece's. */
function leftAside(grid: Grid, block: NumberBlock, group: ColumnGroup) {
  const notes: string[] = [];
  const doubts: RecordDoubt[] = [];
  for (const extra of group.leftAside) {
    const first = group.columns.find(({ kind }) => kind === extra.kind)!;
    notes.push(`column "${extra.name}" left aside: another ${extra.kind} column comes first`);
    if (extra.kind !== "force" && extra.kind !== "stress") continue;
    if (!isSame(valuesOf(grid, block, first), valuesOf(grid, block, extra))) doubts.push(loadAmbiguous(first, extra));
  }
  return { notes, doubts };
}

function isSame(left: Float64Array, right: Float64Array): boolean {
  const highest = left.reduce((best, value) => Math.max(best, value || 0), 0);
  return left.every((value, i) => !(Math.abs(value - right[i]!) > SAME_LOAD_SHARE * highest));
}

function loadAmbiguous(first: KnownColumn, extra: KnownColumn): RecordDoubt {
  return {
    code: "columns-ambiguous",
    message:
      `There are two different columns of ${first.kind}, "${first.name}" and "${extra.name}". The first was read, and decides nothing. ` +
      "Pieces side by side can be told apart where each has its own columns of force and strain.",
    affects: EVERYTHING,
  };
}

interface KindAndFactor {
  readonly kind: ColumnKind;
  readonly factor: number;
  readonly note?: string;
}

/** The unit has the last word between strain and extension: machines call both "extension" and "elongation". */
function kindAndFactor({ kind, unit, name }: Heading): KindAndFactor | undefined {
  if (unit !== "") {
    const own = unitFactor(unit, DIMENSIONS[kind]);
    if (own !== undefined) return { kind, factor: own };
    if (kind === "extension" || kind === "crosshead") {
      const factor = unitFactor(unit, "strain");
      return factor === undefined ? undefined : { kind: "strain", factor };
    }
    const factor = kind === "strain" ? unitFactor(unit, "length") : undefined;
    return factor === undefined ? undefined : { kind: "extension", factor };
  }
  if (kind === "time") return { kind, factor: 1, note: "time without a unit taken as seconds" };
  // A strain has no unit where it is a plain ratio; the slope tells whether that was meant.
  if (kind === "strain") return { kind, factor: 1, note: `"${name}" has no unit and was taken as a ratio` };
  return undefined;
}

function unitMissing({ name, unit, column }: Heading, grid: Grid, block: NumberBlock): RecordDoubt {
  const cell = cellsOfRow(grid, block.first).find((candidate) => candidate.column === column);
  const what = unit === "" ? "has no unit" : `has a unit that does not fit it, "${unit}"`;
  return {
    code: "column-unit",
    message: `The column "${name}" ${what} and was not used. Write its unit under or beside the heading.`,
    affects: [],
    ...(cell && { place: cell.place }),
  };
}

function valuesOf(grid: Grid, block: NumberBlock, { column, factor }: KnownColumn): Float64Array {
  const values = columnValues(grid, block, column);
  if (factor !== 1) for (let i = 0; i < values.length; i++) values[i] = values[i]! * factor;
  return values;
}

function namedColumns(
  grid: Grid,
  block: NumberBlock,
  { columns }: ColumnGroup,
  sharedTime: KnownColumn | undefined,
): TensileColumns {
  const pick = (wanted: ColumnKind) => {
    const found = columns.find(({ kind }) => kind === wanted) ?? (wanted === "time" ? sharedTime : undefined);
    return found && valuesOf(grid, block, found);
  };
  const [time, force, stress, strain] = [pick("time"), pick("force"), pick("stress"), pick("strain")];
  const [extension, crosshead] = [pick("extension"), pick("crosshead")];
  return {
    ...(time && { timeSeconds: time }),
    ...(force && { forceNewton: force }),
    ...(stress && { stressMPa: stress }),
    ...(strain && { strain }),
    ...(extension && { extensionMm: extension }),
    ...(crosshead && { crossheadMm: crosshead }),
  };
}
