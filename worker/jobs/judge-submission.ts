import type { EarlierHeat } from "../../core/certificate/earlier-reading.js";
import type { Starts } from "../store/progress.js";
import type { DocumentStore, Records, SubmissionRecord } from "../store/records.js";
import { packEvidence } from "./pack-evidence.js";
import { persist } from "./persist.js";
import { takePictures } from "./take-pictures.js";
import {
  type GivenDocument,
  judgeDocuments,
  readDocuments,
  type VerifiedReport,
  type Verifier,
  VerifierFault,
} from "./verify-documents.js";

export interface JudgeDeps {
  readonly records: Pick<Records, "markWorking" | "markInterrupted" | "getSubmission" | "finish" | "fail">;
  readonly documents: DocumentStore;
  readonly verifier: Verifier;
  /** Starts that were never heard of again. */
  findStarts(id: string): Promise<Starts>;
  /** What earlier submissions of the same client say of these heats. */
  findEarlier(id: string, heats: readonly string[]): Promise<readonly EarlierHeat[]>;
  /** Runs one piece of work at a time in this process; undefined, and nothing done, while another one runs. */
  alone<Result>(work: () => Promise<Result>): Promise<Result> | undefined;
  /** How long to try to write down what became of it. */
  readonly persistMs?: number;
}

export type JudgeOutcome =
  | { readonly kind: "done"; readonly report: VerifiedReport }
  | { readonly kind: "failed"; readonly code: string; readonly cause?: unknown }
  /** Somebody else made it final before, or it was erased. */
  | { readonly kind: "nothing-to-do" }
  /** Not now. */
  | { readonly kind: "put-off"; readonly waitMs: number };

/** So many workers may die over one submission before it is taken for the cause. */
export const STARTS_ALLOWED = 3;

const PERSIST_MS = 20_000;
/** Until a suspect asks for its turn again. */
const TURN_WAIT_MS = 500;
/**
 * From one start of a suspect to the next, for each start that it has lost: whoever died over it is to be back before another one may,
 * or all would be down at once and nobody judge the others. Below what crash recovery is promised to take, 15 s.
 */
const SUSPECT_PAUSE_MS = 5_000;

/**
 * Judges one submission. Running it twice leaves the same report: the second finds the submission final, or stores the
 * same bytes over nothing. What fails outside (database, document store) is thrown, so that the queue tries again.
 */
export async function judgeSubmission(deps: JudgeDeps, id: string): Promise<JudgeOutcome> {
  // When a worker dies, everything it worked on has lost a start, and only one is to blame. Those run one after the other
  // from then on, so that the one at fault uses up its own starts and not its neighbours'. Those that wait for their turn wait in the
  // queue: here they would hold the places that others are judged in.
  const { count, agoMs } = await deps.findStarts(id);
  if (count === 0) return judgeOnce(deps, id);
  const pauseMs = count < STARTS_ALLOWED && agoMs >= 0 ? count * SUSPECT_PAUSE_MS - agoMs : 0;
  if (pauseMs > 0) return { kind: "put-off", waitMs: pauseMs };
  return (await deps.alone(() => judgeOnce(deps, id))) ?? { kind: "put-off", waitMs: TURN_WAIT_MS };
}

async function judgeOnce(deps: JudgeDeps, id: string): Promise<JudgeOutcome> {
  const { records } = deps;
  const start = await records.markWorking(id, STARTS_ALLOWED);
  if (start === "given-up") {
    return failFor(
      deps,
      id,
      "gave-up-after-crashes",
      `Working on this submission ended the worker process ${STARTS_ALLOWED} times. Hand its documents in one by one to find ` +
        "the one at fault, and tell the operator of this service.",
    );
  }
  const submission = start === "started" ? await records.getSubmission(id) : undefined;
  if (!submission) return { kind: "nothing-to-do" };

  try {
    return { kind: "done", report: await verifySubmission(deps, submission) };
  } catch (error) {
    // Erased with its documents while it was worked on: what went wrong for want of them is no fault.
    if (await isErased(deps, id)) return { kind: "nothing-to-do" };
    if (error instanceof VerifierFault) {
      return failFor(
        deps,
        id,
        "internal-fault",
        "The service could not finish judging because of a fault of its own. Nothing is said about the metal. Tell the operator.",
        error,
      );
    }
    // It ended, it did not die. If even this cannot be written, the start counts as a death, which errs on the safe side.
    await persist(() => records.markInterrupted(id), deps.persistMs ?? PERSIST_MS).catch(() => {});
    throw error;
  }
}

/** Where the records cannot say, it is taken to be there: trying again finds out. */
async function isErased({ records }: JudgeDeps, id: string): Promise<boolean> {
  return await records.getSubmission(id).then(
    (kept) => kept === undefined,
    () => false,
  );
}

async function verifySubmission(deps: JudgeDeps, submission: SubmissionRecord): Promise<VerifiedReport> {
  const files = await Promise.all(
    submission.documents.map(async (document) => ({ document, file: await deps.documents.checkOut(document.sha256) })),
  );
  try {
    const given = files.map(({ document, file }) => ({ ...document, path: file.path }));
    return await judgeAndFinish(deps, submission, given);
  } finally {
    await Promise.all(files.map(({ file }) => file.release()));
  }
}

/** Each round means that another submission of one of the heats was finished meanwhile; so many at once are not normal. */
const ROUNDS = 20;

/** Judges knowing what was handed in of the same heats before, and once more where that changed before the report was kept. */
async function judgeAndFinish(
  deps: JudgeDeps,
  { id, requirement, correction }: SubmissionRecord,
  given: readonly GivenDocument[],
): Promise<VerifiedReport> {
  const documents = await readDocuments(deps.verifier, given);
  const judging = { requirement, corrections: correction?.corrections };
  const evidence = await packEvidence(documents);
  const alone = judgeDocuments(deps.verifier, documents, judging);
  // What is known of earlier submissions adds findings, and no readings.
  const pictures = await takePictures(deps.verifier, given, alone.report);
  for (let round = 0; round < ROUNDS; round++) {
    const earlier = await deps.findEarlier(id, alone.heatNumbers);
    const report = earlier.length === 0 ? alone : judgeDocuments(deps.verifier, documents, { ...judging, earlier });
    const finished = { ...report, evidence, earlier, pictures };
    if (await persist(() => deps.records.finish(id, finished), deps.persistMs ?? PERSIST_MS)) return report;
  }
  throw new Error(`Submissions of the same heats as ${id} come in faster than they can be judged.`);
}

async function failFor(
  deps: JudgeDeps,
  id: string,
  code: string,
  message: string,
  cause?: unknown,
): Promise<JudgeOutcome> {
  await deps.records.fail(id, { code, message });
  return { kind: "failed", code, ...(cause !== undefined && { cause }) };
}
