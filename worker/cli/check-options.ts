import { parseArgs } from "node:util";
import { FACES, type Format, isFormat } from "./faces.js";
import { type Terminal, UsageError } from "./terminal.js";

export interface CheckOptions {
  readonly documents: readonly string[];
  readonly requirement?: string;
  readonly corrections?: string;
  readonly format: Format;
  readonly output?: string;
  readonly gradeFolders: readonly string[];
}

export const CHECK_USAGE = `Usage: heatgate check <documents...> [--requirement file] [--corrections file] [--format name] [--output path]

Judges mill certificates and test records, all of them together as one submission: values are joined by heat.

  <documents...>            files, folders (their files, also in folders below), patterns such as 'certs/*.xlsx',
                            or - for one document on standard input
  -r, --requirement file    what the heats must meet (JSON); without it, the grades that the certificates claim
  -c, --corrections file    what a person confirmed or corrected after looking at the documents (JSON)
  -f, --format name         ${Object.keys(FACES).join(", ")} (default: text)
  -o, --output path         write the report there instead of to standard output
      --grades folder       your own grade files and confirmed limits, before the built-in ones; again for more;
                            else the folders that HEATGATE_GRADES names
  -h, --help                this text

The report goes to standard output, everything else to standard error. Nothing is sent anywhere and nothing is kept.

Exit codes: 0 every heat passes; 1 a limit is violated; 2 usage or internal error;
3 nothing is violated, but something could not be decided.

Examples:
  heatgate check certificate.xlsx
  heatgate check certs/ --requirement t-204.json --format html --output report.html
  heatgate check plate.csv impact.xlsx --format junit --output heatgate.xml`;

export function readCheckOptions(args: readonly string[], { stdout }: Terminal): CheckOptions {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      requirement: { type: "string", short: "r" },
      corrections: { type: "string", short: "c" },
      format: { type: "string", short: "f", default: "text" },
      output: { type: "string", short: "o" },
      grades: { type: "string", multiple: true, default: [] },
    },
  });
  const { requirement, corrections, format, output, grades } = values;
  if (positionals.length === 0) throw new UsageError("name at least one document.");
  if (!isFormat(format)) {
    throw new UsageError(
      `there is no format ${JSON.stringify(format)}; choose one of ${Object.keys(FACES).join(", ")}.`,
    );
  }
  if ([requirement, corrections, ...positionals].filter((name) => name === "-").length > 1) {
    throw new UsageError("only one of document, requirement and corrections can come from standard input.");
  }
  if (format === "xlsx" && output === undefined && stdout.isTTY) {
    throw new UsageError("a workbook can't be shown in a terminal; name a file with --output.");
  }
  return {
    documents: positionals,
    format,
    gradeFolders: grades,
    ...(requirement !== undefined && { requirement }),
    ...(corrections !== undefined && { corrections }),
    ...(output !== undefined && output !== "-" && { output }),
  };
}
