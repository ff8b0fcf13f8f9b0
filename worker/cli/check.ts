import { mkdtemp, rm } from "node:fs/promises";
import { availableParallelism, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { CORRECTION_NOT_APPLIED, type Corrections } from "../../core/certificate/corrections.js";
import { placeText } from "../../core/report/place-text.js";
import { onOneLine } from "../../core/report/printable.js";
import type { Report } from "../../core/report/report.js";
import type { SpotPicture } from "../../core/report/spot-picture.js";
import { tally } from "../../core/report/tally.js";
import type { Requirement } from "../../core/requirement/requirement.js";
import { createVerifier } from "../create-verifier.js";
import { takePictures } from "../jobs/take-pictures.js";
import { type GivenDocument, type VerifiedReport, verifyDocuments } from "../jobs/verify-documents.js";
import { gradeFolders } from "../store/grade-folders.js";
import { CHECK_USAGE, type CheckOptions, readCheckOptions } from "./check-options.js";
import { FACES } from "./faces.js";
import { gatherDocuments } from "./gather-documents.js";
import { checkCorrectedDocuments, readCorrections } from "./read-corrections.js";
import { readRequirement } from "./read-requirement.js";
import { type Command, EXIT, type Terminal, wantsColour, write } from "./terminal.js";
import { writeWholeFile } from "./whole-file.js";

/** The batch command: documents in, one report out, and an exit code that a build pipeline can stop on. */
export const check: Command = {
  usage: CHECK_USAGE,
  async run(args, terminal) {
    const options = readCheckOptions(args, terminal);
    const scratchFolder = await mkdtemp(join(tmpdir(), "heatgate-check-"));
    try {
      return await checkDocuments(options, terminal, scratchFolder);
    } finally {
      await rm(scratchFolder, { recursive: true, force: true });
    }
  },
};

async function checkDocuments(options: CheckOptions, terminal: Terminal, scratchFolder: string): Promise<number> {
  const requirement = options.requirement === undefined ? null : await readRequirement(options.requirement, terminal);
  const corrections = options.corrections === undefined ? null : await readCorrections(options.corrections, terminal);
  const documents = await gatherDocuments(options.documents, terminal, scratchFolder);
  if (corrections) checkCorrectedDocuments(corrections, options.corrections!, documents);
  const verified = await verify(documents, requirement, corrections, options, terminal);

  const { report } = verified;
  await sayWhatWasNotApplied(report, terminal);
  const bytes = await FACES[options.format]({ ...verified, colour: wantsColour(terminal) });
  if (options.output === undefined) await write(terminal.stdout, bytes);
  else await writeReport(resolve(terminal.folder, options.output), bytes, terminal, report);
  return EXIT[report.verdict === "not-applicable" ? "undetermined" : report.verdict];
}

async function verify(
  documents: readonly GivenDocument[],
  requirement: Requirement | null,
  corrections: Corrections | null,
  options: CheckOptions,
  terminal: Terminal,
): Promise<VerifiedReport & { readonly pictures: readonly SpotPicture[] }> {
  const folders = options.gradeFolders.length > 0 ? options.gradeFolders : gradeFolders(terminal.env);
  const verifier = await createVerifier({
    children: Math.min(documents.length, availableParallelism()),
    gradeFolders: folders.map((name) => resolve(terminal.folder, name)),
  });
  const stopTalking = sayAfterOneSecond(terminal, `Reading ${documents.length} document(s) …`);
  try {
    const verified = await verifyDocuments(verifier, documents, requirement, corrections ?? undefined);
    const pictures = options.format === "html" ? await takePictures(verifier, documents, verified.report) : [];
    return { ...verified, pictures };
  } finally {
    stopTalking();
    await verifier.close();
  }
}

/** The report says it too; whoever gave the file must not have to look for it there. */
async function sayWhatWasNotApplied(report: Report, { stderr }: Terminal): Promise<void> {
  const doubts = report.documents.flatMap(({ doubts }) => doubts.filter(({ code }) => code === CORRECTION_NOT_APPLIED));
  const lines = new Set(
    doubts.map(({ message, evidence }) => `${evidence && placeText(evidence, report)}: ${message}`),
  );
  for (const line of lines) await write(stderr, `heatgate check: ${onOneLine(line)}\n`);
}

async function writeReport(
  path: string,
  bytes: string | Uint8Array,
  terminal: Terminal,
  report: Report,
): Promise<void> {
  await writeWholeFile(path, bytes);
  const heats = tally(report.heats.map(({ verdict }) => verdict)) || "no heat";
  await write(terminal.stderr, `Verdict: ${report.verdict} (${heats}). Report: ${path}\n`);
}

/** Quick work stays quiet. */
function sayAfterOneSecond({ stderr }: Terminal, message: string): () => void {
  const timer = setTimeout(() => stderr.write(`${message}\n`), 1_000);
  return () => clearTimeout(timer);
}
