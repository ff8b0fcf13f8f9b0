import type { PlacedDoubt } from "../../recogniser/cells.js";
import { cellsOfRow, columnValues, type Grid, type NumberBlock } from "../reading/grid.js";
import { splitUnit } from "../reading/header-lines.js";
import { type RecordDimension, unitFactor } from "../reading/spelled-unit.js";
import { type ColumnKind, columnKind } from "./column-names.js";
import type { TensileColumns } from "./record.js";

export interface ReadColumns {
  readonly columns: TensileColumns;
  /** Entry of the grid's rows with the headings: header lines end there. */
  readonly headingRow: number;
  readonly notes: readonly string[];
  readonly doubts: readonly PlacedDoubt[];
}

interface Heading {
  readonly column: number;
  readonly kind: ColumnKind;
  readonly name: string;
  readonly unit: string;
}

/** Headings stand at most this many rows above the numbers: a name, a unit, perhaps a channel. */
const HEADING_ROWS = 4;

/** Finds the headings of a block of numbers and reads its columns; undefined where they are not those of a tensile curve. */
export function readColumns(grid: Grid, block: NumberBlock): ReadColumns | undefined {
  for (let row = block.first - 1; row >= Math.max(0, block.first - HEADING_ROWS); row--) {
    const headings = headingsOfRow(grid, row, block.first);
    const kinds = new Set(headings.map(({ kind }) => kind));
    const hasLoad = kinds.has("force") || kinds.has("stress");
    const hasWay = kinds.has("strain") || kinds.has("extension") || kinds.has("crosshead");
    if (hasLoad && hasWay) return { ...readEach(grid, block, headings), headingRow: row };
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

function readEach(grid: Grid, block: NumberBlock, headings: readonly Heading[]) {
  const found = new Map<ColumnKind, Float64Array>();
  const notes: string[] = [];
  const doubts: PlacedDoubt[] = [];
  for (const heading of headings) {
    const read = kindAndFactor(heading);
    if (read === undefined) {
      doubts.push(unitMissing(heading, grid, block));
      continue;
    }
    if (found.has(read.kind)) {
      notes.push(`column "${heading.name}" left aside: another ${read.kind} column comes first`);
      continue;
    }
    if (read.note) notes.push(read.note);
    const values = columnValues(grid, block, heading.column);
    if (read.factor !== 1) for (let i = 0; i < values.length; i++) values[i] = values[i]! * read.factor;
    found.set(read.kind, values);
  }
  return { columns: named(found), notes, doubts };
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

function unitMissing({ name, unit, column }: Heading, grid: Grid, block: NumberBlock): PlacedDoubt {
  const cell = cellsOfRow(grid, block.first).find((candidate) => candidate.column === column);
  const what = unit === "" ? "has no unit" : `has a unit that does not fit it, "${unit}"`;
  return {
    code: "column-unit",
    message: `The column "${name}" ${what} and was not used. Write its unit under or beside the heading.`,
    ...(cell && { place: cell.place }),
  };
}

function named(found: ReadonlyMap<ColumnKind, Float64Array>): TensileColumns {
  const pick = (kind: ColumnKind) => found.get(kind);
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
