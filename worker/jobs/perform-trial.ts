import { setImmediate as nextTurn } from "node:timers/promises";
import { joinHeats } from "../../core/certificate/join-heats.js";
import { correctedDocuments, type JudgedDocument } from "../../core/report/build-report.js";
import { gradesMet } from "../../core/report/grades-met.js";
import { reportMatches } from "../../core/report/match.js";
import type { Report } from "../../core/report/report.js";
import { reportDifference } from "../../core/report/report-difference.js";
import { gradesSatisfied } from "../../core/verdict/grades-satisfied.js";
import type { Failure } from "../store/records.js";
import type { StartedTrial } from "../store/trial-jobs.js";
import { unpackEvidence } from "./pack-evidence.js";
import { judgeDocuments, type Verifier, VerifierFault } from "./verify-documents.js";

export interface TrialDeps {
  readonly trials: {
    start(id: string, startsAllowed: number): Promise<StartedTrial | "given-up" | "final">;
    interrupt(id: string): Promise<void>;
    finish(id: string, answer: { readonly result: unknown } | { readonly failure: Failure }): Promise<void>;
  };
  readonly verifier: Verifier;
}

export type TrialOutcome =
  | { readonly kind: "done" | "nothing-to-do" }
  | { readonly kind: "failed"; readonly cause?: unknown };

const STARTS_ALLOWED = 3;

/** Answers a question from what was read when the submission was judged. Nothing that is stored changes, and nobody is told. */
export async function performTrial({ trials, verifier }: TrialDeps, id: string): Promise<TrialOutcome> {
  const trial = await trials.start(id, STARTS_ALLOWED);
  if (trial === "final") return { kind: "nothing-to-do" };
  if (trial === "given-up") return await fail("gave-up-after-crashes", "Working on this ended the worker process.");
  const { reportJson, evidence } = trial;
  if (reportJson === undefined || evidence === undefined) {
    return await fail(
      "evidence-missing",
      "What was read of these documents is not kept: it was erased, or judged by an earlier version. Hand them in again.",
    );
  }
  try {
    const documents = await unpackEvidence(evidence);
    const report = JSON.parse(reportJson) as Report;
    const result =
      trial.kind === "grades"
        ? await matchGrades(verifier, trial, documents)
        : dryRun(verifier, trial, documents, report);
    await trials.finish(id, { result });
    return { kind: "done" };
  } catch (error) {
    if (error instanceof VerifierFault) {
      return await fail("internal-fault", "The service could not answer because of a fault of its own.", error);
    }
    await trials.interrupt(id).catch(() => {});
    throw error;
  }

  async function fail(code: string, message: string, cause?: unknown): Promise<TrialOutcome> {
    await trials.finish(id, { failure: { code, message } });
    return { kind: "failed", ...(cause !== undefined && { cause }) };
  }
}

function dryRun(verifier: Verifier, trial: StartedTrial, documents: readonly JudgedDocument[], before: Report) {
  const { requirement, heat, earlier, submitted } = trial;
  const judging = { requirement, corrections: submitted.corrections, earlier };
  const after = JSON.parse(judgeDocuments(verifier, documents, judging).json) as Report;
  const changedGrades = before.library.filter(({ id, digest }) =>
    after.library.some((now) => now.id === id && now.digest !== digest),
  );
  return {
    requirement: { before: before.requirement, after: after.requirement },
    ...reportDifference(before, after, heat),
    // A difference may come from limits that were corrected since, and not from the requirement.
    changedGrades: changedGrades.map(({ id }) => id),
  };
}

async function matchGrades(verifier: Verifier, { submitted }: StartedTrial, documents: readonly JudgedDocument[]) {
  const certificates = correctedDocuments(documents, submitted.corrections).flatMap(({ content }, document) =>
    content.kind === "certificate" ? [{ document, certificate: content.certificate }] : [],
  );
  const heats = [];
  for (const heat of joinHeats(certificates).heats) {
    // A heat against the whole library takes a tenth of a second, in which this process does nothing else.
    await nextTurn();
    heats.push(gradesMet(reportMatches(heat.heat, gradesSatisfied(heat, submitted.requirement, verifier.library))));
  }
  return { items: heats };
}
