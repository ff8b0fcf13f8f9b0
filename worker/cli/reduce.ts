import { mkdtemp, rm } from "node:fs/promises";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import type { ReadDocument } from "../../core/recogniser/cells.js";
import { recognise } from "../../core/recogniser/recognise.js";
import { reduceCurves, reduceTable } from "../../core/reduction/reduce-records.js";
import type { Specimen } from "../../core/reduction/tensile/record.js";
import { buildReductionReport, type ReductionInput } from "../../core/report/reduction/reduction-report.js";
import { createReader, type DocumentReader, type ReadResult } from "../readers/read-document.js";
import { findDocuments, given, type NamedDocument } from "./gather-documents.js";
import { REDUCE_USAGE, readReduceOptions } from "./reduce-options.js";
import { openReductionOutput, type ReductionOutput } from "./reduction-output.js";
import { type Command, EXIT, type Terminal, write } from "./terminal.js";

/** Raw test records in, properties out, with every step shown. Of many documents only two are in memory at any time. */
export const reduce: Command = {
  usage: REDUCE_USAGE,
  async run(args, terminal) {
    const options = readReduceOptions(args);
    const scratchFolder = await mkdtemp(join(tmpdir(), "heatgate-reduce-"));
    try {
      const documents = await findDocuments(options.documents, terminal, scratchFolder);
      const output = await openReductionOutput(documents.length, options, terminal);
      try {
        const wanting = await reduceInTurn(documents, options.known, output, terminal);
        await output.close();
        return wanting === 0 ? EXIT.pass : EXIT.undetermined;
      } finally {
        await output.discard();
      }
    } finally {
      await rm(scratchFolder, { recursive: true, force: true });
    }
  },
};

/** How many documents could not be read or gave nothing. */
async function reduceInTurn(
  documents: readonly NamedDocument[],
  known: Specimen,
  output: ReductionOutput,
  { stderr }: Terminal,
): Promise<number> {
  let wanting = 0;
  for await (const { document, result } of readInTurn(documents)) {
    if (!result.ok) {
      wanting++;
      await write(stderr, `${document.name} can't be read: ${result.problem.message}\n`);
      continue;
    }
    const { name, sha256 } = await given(document);
    const input = { document: { name, sha256 }, ...reduced(result.document, known) };
    const report = buildReductionReport(input);
    if (report.curves.length + report.impact.length === 0) wanting++;
    await output.take(report, input);
  }
  return wanting;
}

/** A batch of small curves would spend more time on starting children than on reading. */
const DOCUMENTS_PER_CHILD = 500;

/** While one document is worked on, the next is being read. */
async function* readInTurn(documents: readonly NamedDocument[]) {
  const children = Math.min(documents.length, 2, availableParallelism());
  const reader = createReader({ children, documentsPerChild: DOCUMENTS_PER_CHILD });
  try {
    let next = startReading(reader, documents[0]);
    for (const [index, document] of documents.entries()) {
      const result = await next!;
      next = startReading(reader, documents[index + 1]);
      yield { document, result };
    }
  } finally {
    await reader.close();
  }
}

function startReading(reader: DocumentReader, document: NamedDocument | undefined): Promise<ReadResult> | undefined {
  const reading = document && reader.read(document.path, { name: document.name, mediaType: UNKNOWN_TYPE });
  // It is awaited in its turn; when the turn never comes, because the one before threw, that is what is to be told.
  reading?.catch(() => undefined);
  return reading;
}

const UNKNOWN_TYPE = "application/octet-stream";

/** Curves and pendulum tables are reduced; what other tables give of finished impact results may still carry a transition curve. */
function reduced(document: ReadDocument, known: Specimen): Omit<ReductionInput, "document"> {
  const shown = document.tables.filter(({ hidden }) => !hidden);
  const curves = shown.map((table) => reduceCurves(table, known));
  const others = shown.filter((_, index) => curves[index]!.length === 0);
  const raw = others.map((table) => reduceTable(table, 0));
  const finished = recognise({ ...document, tables: others.filter((_, index) => raw[index] === undefined) }, 0);
  return {
    curves: curves.flat(),
    impactHeats: [...raw.flatMap((table) => table?.heats ?? []), ...finished.heats],
    doubts: raw.flatMap((table) => table?.doubts ?? []),
  };
}
