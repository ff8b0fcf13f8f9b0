import { mkdtemp, rm } from "node:fs/promises";
import { availableParallelism, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { joinHeats } from "../../core/certificate/join-heats.js";
import { matchText, reportMatches } from "../../core/report/match.js";
import { gradesSatisfied } from "../../core/verdict/grades-satisfied.js";
import { createVerifier } from "../create-verifier.js";
import { readDocuments } from "../jobs/verify-documents.js";
import { gradeFolders } from "../store/grade-folders.js";
import { gatherDocuments } from "./gather-documents.js";
import { readRequirement } from "./read-requirement.js";
import { type Command, type Terminal, UsageError, write } from "./terminal.js";

/** Answers what the metal is like, not what it is certified as; so it gives exit code 0 whatever it finds. */
export const match: Command = {
  usage: `Usage: heatgate match <documents...> [--requirement file] [--format text|json] [--all]

Holds every heat against every grade of the library: met, missed and by how much, or not decidable and why.
Meeting the limits of a grade does not certify the metal as that grade.

  <documents...>            as for heatgate check
  -r, --requirement file    takes product form, thickness, condition and rounding from it
  -f, --format name         text, json (default: text)
  -a, --all                 also the grades that are missed by more than one limit
      --grades folder       your own grade files; again for more
  -h, --help                this text`,
  async run(args, terminal) {
    const options = readOptions(args);
    const scratchFolder = await mkdtemp(join(tmpdir(), "heatgate-match-"));
    try {
      return await matchDocuments(options, terminal, scratchFolder);
    } finally {
      await rm(scratchFolder, { recursive: true, force: true });
    }
  },
};

function readOptions(args: readonly string[]) {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      requirement: { type: "string", short: "r" },
      format: { type: "string", short: "f", default: "text" },
      all: { type: "boolean", short: "a", default: false },
      grades: { type: "string", multiple: true, default: [] },
    },
  });
  if (positionals.length === 0) throw new UsageError("name at least one document.");
  if (values.format !== "text" && values.format !== "json") throw new UsageError("the formats are text and json.");
  return { ...values, documents: positionals };
}

async function matchDocuments(
  options: ReturnType<typeof readOptions>,
  terminal: Terminal,
  scratchFolder: string,
): Promise<number> {
  const requirement = options.requirement === undefined ? null : await readRequirement(options.requirement, terminal);
  const documents = await gatherDocuments(options.documents, terminal, scratchFolder);
  const folders = options.grades.length > 0 ? options.grades : gradeFolders(terminal.env);
  const verifier = await createVerifier({
    children: Math.min(documents.length, availableParallelism()),
    gradeFolders: folders.map((name) => resolve(terminal.folder, name)),
  });
  try {
    const read = await readDocuments(verifier, documents);
    const certificates = read.flatMap(({ content, name }, document) => {
      if (content.kind === "certificate") return [{ document, certificate: content.certificate }];
      terminal.stderr.write(`${name}: ${content.message}\n`);
      return [];
    });
    const matches = joinHeats(certificates).heats.map((heat) =>
      reportMatches(heat.heat, gradesSatisfied(heat, requirement, verifier.library)),
    );
    const json = () => `${JSON.stringify(matches, undefined, 2)}\n`;
    await write(terminal.stdout, options.format === "json" ? json() : matchText(matches, options.all));
    return 0;
  } finally {
    await verifier.close();
  }
}
