import { parseArgs } from "node:util";
import type { Noted, Specimen } from "../../core/reduction/tensile/record.js";
import { UsageError } from "./terminal.js";

export const REDUCE_FORMATS = ["text", "json", "html"] as const;
export type ReduceFormat = (typeof REDUCE_FORMATS)[number];

export interface ReduceOptions {
  readonly documents: readonly string[];
  readonly format: ReduceFormat;
  readonly output?: string;
  /** What the record itself does not say of the piece. What it says wins. */
  readonly known: Specimen;
}

export const REDUCE_USAGE = `Usage: heatgate reduce <documents...> [--format name] [--output path] [--area mm2 ...]

Reduces raw test records: tensile curves (ISO 6892-1, ASTM E8), pendulum tables (ISO 148-1, ASTM E23), and
transition curves from impact results at several temperatures. Every value is shown with its work.

  <documents...>             CSV, TSV or workbooks: files, folders, patterns, or - for standard input
  -f, --format name          ${REDUCE_FORMATS.join(", ")} (default: text)
  -o, --output path          write there instead of to standard output
  -h, --help                 this text

Several documents are read and written one after the other: as text one below the other, as JSON one report a line,
as HTML one page each into the folder that --output names.

What the record's own lines do not say of the tensile piece can be given (lengths in mm, area in mm2):
      --area, --diameter, --width, --thickness        original section
      --gauge-length, --extensometer-length           L0 and Le
      --final-length, --final-area                    Lu and Su
      --heat, --material

Exit codes: 0 every document gave something; 2 usage or internal error; 3 a document could not be read or held
nothing to reduce.`;

const SIZES = {
  area: "areaMm2",
  diameter: "diameterMm",
  width: "widthMm",
  thickness: "thicknessMm",
  "gauge-length": "gaugeLengthMm",
  "extensometer-length": "extensometerLengthMm",
  "final-length": "finalLengthMm",
  "final-area": "finalAreaMm2",
} as const satisfies Record<string, keyof Specimen>;

export function readReduceOptions(args: readonly string[]): ReduceOptions {
  const sizes = Object.fromEntries(Object.keys(SIZES).map((name) => [name, { type: "string" as const }]));
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: "string", short: "f", default: "text" },
      output: { type: "string", short: "o" },
      heat: { type: "string" },
      material: { type: "string" },
      ...sizes,
    },
  });
  if (positionals.length === 0) throw new UsageError("name at least one document.");
  const given = values as Readonly<Record<string, string | undefined>>;
  const format = REDUCE_FORMATS.find((name) => name === given.format);
  if (!format) throw new UsageError(`there is no format ${given.format}; choose one of ${REDUCE_FORMATS.join(", ")}.`);
  const { output } = given;
  return {
    documents: positionals,
    format,
    known: knownOf(given),
    ...(output !== undefined && output !== "-" && { output }),
  };
}

function knownOf(given: Readonly<Record<string, string | undefined>>): Specimen {
  const known: Record<string, Noted<string | number>> = {};
  for (const [option, field] of Object.entries(SIZES)) {
    const text = given[option];
    if (text === undefined) continue;
    const value = Number(text);
    if (!(value > 0) || !Number.isFinite(value)) throw new UsageError(`--${option} ${text} is no number above zero.`);
    known[field] = { value, printed: text };
  }
  for (const field of ["heat", "material"] as const) {
    const text = given[field];
    if (text !== undefined) known[field] = { value: text, printed: text };
  }
  return known as Specimen;
}
