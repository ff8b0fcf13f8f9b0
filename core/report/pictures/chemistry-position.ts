import { label } from "./axes.js";
import { lookOf, marker } from "./marks.js";
import { element, group, picture, type Svg } from "./svg.js";

export interface ChemistryRow {
  readonly element: string;
  /** As it is to be shown: digits count. */
  readonly shown: string;
  readonly value: number;
  readonly min?: number;
  readonly max?: number;
  readonly minShown?: string;
  readonly maxShown?: string;
}

export interface ChemistryPicture {
  readonly id: string;
  readonly subject: string;
  readonly rows: readonly ChemistryRow[];
}

const WIDTH = 720;
const ROW = 26;
const TOP = 44;
/** Where the lower and the upper limit of every element stand; a value beyond them is drawn as far out as it is wrong. */
const [MIN_AT, MAX_AT] = [230, 560];
const [LEFT, RIGHT] = [150, 640];

/** Every element as its position between its limits, one scale for all: what is near an edge or beyond it is seen at once. */
export function drawChemistryPosition(input: ChemistryPicture): string {
  const height = TOP + input.rows.length * ROW + 40;
  return picture(
    {
      id: input.id,
      title: `Chemistry between its limits: ${input.subject}`,
      description: describe(input),
      width: WIDTH,
      height,
    },
    label(MIN_AT, TOP - 16, "minimum", { "text-anchor": "middle", "font-size": 12 }),
    label(MAX_AT, TOP - 16, "maximum", { "text-anchor": "middle", "font-size": 12 }),
    ...input.rows.map((row, index) => drawRow(row, TOP + index * ROW + ROW / 2)),
    label(
      LEFT,
      height - 12,
      "filled circle: inside; cross: outside; where there is no minimum, zero stands at its place",
      { "font-size": 12 },
    ),
  );
}

function drawRow(row: ChemistryRow, y: number): Svg {
  const { min, max } = row;
  const outside = isOutside(row);
  const at = positionOf(row);
  const stroke = (x1: number, x2: number, more: Readonly<Record<string, string | number>>) =>
    element("line", { x1, x2, y1: y, y2: y, stroke: "#8a9099", ...more });
  const stop = (x: number) =>
    element("line", { x1: x, x2: x, y1: y - 8, y2: y + 8, stroke: "#15181c", "stroke-width": 2 });
  return group(
    label(96, y + 4, row.element, { "text-anchor": "end", "font-weight": 600 }),
    stroke(LEFT, RIGHT, { "stroke-dasharray": "1 4" }),
    at === undefined ? group() : stroke(MIN_AT, max === undefined ? RIGHT : MAX_AT, { "stroke-width": 3 }),
    min === undefined ? group() : stop(MIN_AT),
    max === undefined ? group() : stop(MAX_AT),
    min === undefined
      ? group()
      : label(MIN_AT - 8, y - 5, row.minShown ?? String(min), { "text-anchor": "end", "font-size": 11 }),
    max === undefined ? group() : label(MAX_AT + 8, y - 5, row.maxShown ?? String(max), { "font-size": 11 }),
    at === undefined ? group() : marker(at, y, lookOf(outside ? 4 : 0), outside ? 6 : 5),
    label(WIDTH - 12, y + 4, `${row.shown} %`, { "text-anchor": "end", ...(outside && { "font-weight": 700 }) }),
  );
}

function isOutside({ value, min, max }: ChemistryRow): boolean {
  return (min !== undefined && value < min) || (max !== undefined && value > max);
}

/** Without a maximum twice the minimum stands at its place; without any limit there is no position. */
function positionOf({ value, min, max }: ChemistryRow): number | undefined {
  if (min === undefined && max === undefined) return undefined;
  const low = min ?? 0;
  const high = max ?? 2 * low;
  if (!(high > low)) return undefined;
  const x = MIN_AT + ((value - low) / (high - low)) * (MAX_AT - MIN_AT);
  return Math.min(RIGHT, Math.max(LEFT, x));
}

function describe({ rows }: ChemistryPicture): string {
  const said = rows.map((row) => {
    const limits = [
      row.min !== undefined && `minimum ${row.minShown ?? row.min}`,
      row.max !== undefined && `maximum ${row.maxShown ?? row.max}`,
    ]
      .filter(Boolean)
      .join(", ");
    return `${row.element} ${row.shown} %${limits === "" ? ", no limit" : `, ${limits}`}${isOutside(row) ? ", outside" : ""}`;
  });
  return `${said.join("; ")}.`;
}
