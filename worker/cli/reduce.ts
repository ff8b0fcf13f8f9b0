import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { buffer } from "node:stream/consumers";
import type { ReadDocument } from "../../core/recogniser/cells.js";
import { recognise } from "../../core/recogniser/recognise.js";
import { reduceCurves, reduceTable } from "../../core/reduction/reduce-records.js";
import type { Specimen } from "../../core/reduction/tensile/record.js";
import { renderReductionHtml } from "../../core/report/reduction/reduction-html.js";
import {
  buildReductionReport,
  type ReductionInput,
  type ReductionReport,
} from "../../core/report/reduction/reduction-report.js";
import { renderReductionText } from "../../core/report/reduction/reduction-text.js";
import { createReader } from "../readers/read-document.js";
import { REDUCE_USAGE, type ReduceFormat, readReduceOptions } from "./reduce-options.js";
import { type Command, EXIT, type Terminal, UsageError, write } from "./terminal.js";

/** Raw test records in, properties out, with every step shown. */
export const reduce: Command = {
  usage: REDUCE_USAGE,
  async run(args, terminal) {
    const options = readReduceOptions(args);
    const scratchFolder = await mkdtemp(join(tmpdir(), "heatgate-reduce-"));
    try {
      const path = await pathOf(options.file, terminal, scratchFolder);
      const document = await readDocument(path, options.file);
      const input = {
        document: { name: nameOf(options.file), sha256: await sha256(path) },
        ...reduced(document, options.known),
      };
      const report = buildReductionReport(input);
      const text = FACES[options.format](report, input);
      if (options.output === undefined) await write(terminal.stdout, text);
      else await writeFile(resolve(terminal.folder, options.output), text);
      return report.curves.length + report.impact.length > 0 ? EXIT.pass : EXIT.undetermined;
    } finally {
      await rm(scratchFolder, { recursive: true, force: true });
    }
  },
};

const FACES: Readonly<Record<ReduceFormat, (report: ReductionReport, input: ReductionInput) => string>> = {
  text: (report) => renderReductionText(report),
  json: (report) => `${JSON.stringify(report, undefined, 2)}\n`,
  html: renderReductionHtml,
};

/** Curves and pendulum tables are reduced; what other tables give of finished impact results may still carry a transition curve. */
function reduced(document: ReadDocument, known: Specimen): Omit<ReductionInput, "document"> {
  const shown = document.tables.filter(({ hidden }) => !hidden);
  const curves = reduceCurves({ ...document, tables: shown }, known);
  const curveNames = new Set(curves.map(({ name }) => name));
  const others = shown.filter(({ name }) => !curveNames.has(name));
  const raw = others.map((table) => reduceTable(table, 0));
  const finished = recognise({ ...document, tables: others.filter((_, index) => raw[index] === undefined) }, 0);
  return {
    curves,
    impactHeats: [...raw.flatMap((table) => table?.heats ?? []), ...finished.heats],
    doubts: raw.flatMap((table) => table?.doubts ?? []),
  };
}

async function readDocument(path: string, name: string): Promise<ReadDocument> {
  const reader = createReader({ children: 1 });
  try {
    const result = await reader.read(path, { name: nameOf(name), mediaType: "application/octet-stream" });
    if (!result.ok) throw new UsageError(`${name} can't be read: ${result.problem.message}`);
    return result.document;
  } finally {
    await reader.close();
  }
}

/** The reading process opens a file, so standard input becomes one for the time of the command. */
async function pathOf(file: string, { stdin, folder }: Terminal, scratchFolder: string): Promise<string> {
  if (file !== "-") return resolve(folder, file);
  const path = join(scratchFolder, "standard-input");
  await writeFile(path, await buffer(stdin), { mode: 0o600 });
  return path;
}

function nameOf(file: string): string {
  return file === "-" ? "standard input" : basename(file);
}

async function sha256(path: string): Promise<string> {
  const hash = createHash("sha256");
  for await (const chunk of createReadStream(path)) hash.update(chunk as Uint8Array);
  return hash.digest("hex");
}
