import { mkdtemp, rm } from "node:fs/promises";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { heatHistory } from "../../core/report/history/heat-history.js";
import type { HeatHistory } from "../../core/report/history/history.js";
import { historyEntry } from "../../core/report/history/history-entries.js";
import { renderHistoryHtml } from "../../core/report/history/history-html.js";
import { renderHistoryText } from "../../core/report/history/history-text.js";
import type { Report } from "../../core/report/report.js";
import { createVerifier } from "../create-verifier.js";
import { type GivenDocument, verifyDocuments } from "../jobs/verify-documents.js";
import { faceNamed, putOut } from "./face-option.js";
import { gatherDocuments } from "./gather-documents.js";
import { type Command, EXIT, UsageError } from "./terminal.js";

const FACES: Readonly<Record<string, (history: HeatHistory) => string>> = {
  text: renderHistoryText,
  json: (history) => `${JSON.stringify(history, undefined, 2)}\n`,
  html: renderHistoryHtml,
};

const HISTORY_USAGE = `Usage: heatgate history <documents...> [--base heats] [--mill name] [--format name] [--output path]

Follows carbon, Rp0.2 and impact energy heat by heat, for each mill and grade, in the order of the certificates' dates,
between control limits of individuals and moving range: drift is seen before a heat fails.

  <documents...>        certificates and laboratory records: files, folders, patterns, or - for standard input
  -b, --base heats      so many heats from the first set the limits, at least 8 (default: all of them)
  -m, --mill name       whose the documents are that do not name their issuer under a label; without it such heats
                        are shown together and have no control limits
  -f, --format name     ${Object.keys(FACES).join(", ")} (default: text)
  -o, --output path     write there instead of to standard output
  -h, --help            this text

Exit codes: 0 there is a series; 2 usage or internal error; 3 no heat has a date and a value.`;

export const history: Command = {
  usage: HISTORY_USAGE,
  async run(args, terminal) {
    const { names, baseHeats, mill, face, output } = readOptions(args);
    const scratchFolder = await mkdtemp(join(tmpdir(), "heatgate-history-"));
    try {
      const documents = await gatherDocuments(names, terminal, scratchFolder);
      const { heats, documents: read } = await reportOn(documents);
      const entries = heats.flatMap((heat) => historyEntry({ heat, documents: read }, mill) ?? []);
      const found = heatHistory(entries, baseHeats === undefined ? {} : { baseHeats });
      await putOut(face(found), output, terminal);
      return found.series.length > 0 ? EXIT.pass : EXIT.undetermined;
    } finally {
      await rm(scratchFolder, { recursive: true, force: true });
    }
  },
};

/** The documents judged as one submission, so that a laboratory's record joins the mill's certificate. */
async function reportOn(documents: readonly GivenDocument[]): Promise<Report> {
  const verifier = await createVerifier({ children: Math.min(documents.length, availableParallelism()) });
  try {
    return JSON.parse((await verifyDocuments(verifier, documents, null)).json) as Report;
  } finally {
    await verifier.close();
  }
}

function readOptions(args: readonly string[]) {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      base: { type: "string", short: "b" },
      mill: { type: "string", short: "m" },
      format: { type: "string", short: "f", default: "text" },
      output: { type: "string", short: "o" },
    },
  });
  if (positionals.length === 0) throw new UsageError("name at least one document.");
  const face = faceNamed(FACES, values.format);
  const { base, output } = values;
  const mill = values.mill?.trim();
  if (mill === "") throw new UsageError("--mill needs a name.");
  if (base !== undefined && !/^[1-9]\d{0,5}$/.test(base)) throw new UsageError(`--base ${base} is no number of heats.`);
  return {
    names: positionals,
    face,
    mill,
    baseHeats: base === undefined ? undefined : Number(base),
    output,
  };
}
