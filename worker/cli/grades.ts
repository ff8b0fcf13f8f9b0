import { parseArgs } from "node:util";
import { splitLimitName, statesValue } from "../../core/grades/confirmation.js";
import { findGrades } from "../../core/grades/find-grades.js";
import type { Library, LibraryGrade } from "../../core/grades/grade.js";
import { boundText, limitText } from "../../core/grades/limit-text.js";
import { keepConfirmation } from "../store/confirmations-file.js";
import { GradeFileError, loadLibrary, loadUnconfirmedLibrary } from "../store/grade-files.js";
import { gradeFolders } from "../store/grade-folders.js";
import { summarise, summaryText } from "./grades-summary.js";
import { gradeList, gradeSheet, librarySummary } from "./grades-text.js";

/** What the command line gives a command: where results and talk go, the environment, and today's date (yyyy-mm-dd). */
export interface GradesIo {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly today: () => string;
}

export const GRADES_USAGE = `heatgate grades list [text]                 grades held, or those whose name or standard has the text
heatgate grades summary                     standards, editions, grades and limits in numbers, by how the limits are known
heatgate grades show <grade>                every limit of a grade: "A240 304L", or its id
heatgate grades confirm <limit> --value <numbers> --by <name> --document <text> [--on <yyyy-mm-dd>]
                                            say that a limit agrees with your own copy of the standard
heatgate grades validate                    check the library, your own grade files and confirmations

--format json       the summary for programs
--grades <folder>   your own grade folder (again for more); else HEATGATE_GRADES`;

const OPTIONS = {
  grades: { type: "string", multiple: true },
  value: { type: "string" },
  by: { type: "string" },
  document: { type: "string" },
  on: { type: "string" },
  format: { type: "string", default: "text" },
} as const;

/** Exit codes: 0 done, 1 not found, refused or invalid, 2 wrong usage. */
export async function gradesCommand(argv: readonly string[], io: GradesIo): Promise<number> {
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(argv);
  } catch (error) {
    return usage(io, (error as Error).message);
  }
  const [command, ...words] = parsed.positionals;
  const folders = parsed.values.grades ?? gradeFolders(io.environment);
  try {
    switch (command) {
      case "list":
        io.out(gradeList(await loadLibrary(folders), words.join(" ")));
        return 0;
      case "summary":
        return words.length === 0
          ? summary(await loadLibrary(folders), parsed.values.format, io)
          : usage(io, "summary has no words");
      case "show":
        return words.length === 0 ? usage(io, "show what?") : show(await loadLibrary(folders), words.join(" "), io);
      case "confirm":
        return words.length === 1
          ? await confirm(words[0]!, parsed.values, folders, io)
          : usage(io, "confirm which limit?");
      case "validate":
        io.out(librarySummary(await loadLibrary(folders)));
        return 0;
      default:
        return usage(io, command === undefined ? "" : `no command ${command}`);
    }
  } catch (error) {
    if (!(error instanceof GradeFileError)) throw error;
    io.err(error.message);
    return 1;
  }
}

function parse(argv: readonly string[]) {
  return parseArgs({ args: [...argv], options: OPTIONS, allowPositionals: true });
}

function usage(io: GradesIo, fault: string): number {
  io.err(fault === "" ? GRADES_USAGE : `${fault}\n\n${GRADES_USAGE}`);
  return 2;
}

function summary(library: Library, format: string, io: GradesIo): number {
  if (format !== "text" && format !== "json") return usage(io, "the formats are text and json");
  const numbers = summarise(library);
  io.out(format === "json" ? JSON.stringify(numbers, undefined, 2) : summaryText(numbers));
  return 0;
}

function show(library: Library, text: string, io: GradesIo): number {
  const own = library.grades.find(({ grade }) => grade.id === text);
  if (own) {
    io.out(gradeSheet(own));
    return 0;
  }
  let shown = false;
  for (const found of findGrades(library, { grade: text })) {
    if (found.kind === "found") {
      io.out(gradeSheet(found.grade, found.chosen));
      shown = true;
    } else {
      const names = found.kind === "unknown" ? found.near : found.candidates.map(({ grade }) => grade.id);
      io.err([found.because, ...names.map((name) => `  ${name}`)].join("\n"));
    }
  }
  return shown ? 0 : 1;
}

type Values = ReturnType<typeof parse>["values"];

async function confirm(name: string, values: Values, folders: readonly string[], io: GradesIo): Promise<number> {
  const folder = folders.at(-1);
  if (folder === undefined)
    return usage(io, "confirmations are kept in your own grade folder: give --grades or set HEATGATE_GRADES");
  const { value, by, document, on = io.today() } = values;
  if (value === undefined || by === undefined || document === undefined) {
    return usage(io, "confirm needs --value, --by and --document");
  }
  if (!/^\d{4}-\d{2}-\d{2}$/.test(on)) return usage(io, "--on is a date like 2026-11-20");

  const [gradeId, limitId] = splitLimitName(name);
  const entry: LibraryGrade | undefined = (await loadUnconfirmedLibrary(folders)).grades.find(
    ({ grade }) => grade.id === gradeId,
  );
  const limit = entry?.grade.limits.find(({ id }) => id === limitId);
  if (!limit) {
    io.err(`there is no limit ${name}: "heatgate grades show ${gradeId}" lists those of a grade`);
    return 1;
  }
  if (!statesValue(limit, value)) {
    io.err(
      `the library says ${boundText(limit)}, not ${value}. Where your document differs, load your own grade file instead.`,
    );
    return 1;
  }
  const file = await keepConfirmation(folder, { limit: name, value: limitText(limit), by, on, document });
  io.out(`${name}: ${limitText(limit)}; confirmed by ${by} on ${on} against ${document}, kept in ${file}`);
  return 0;
}
