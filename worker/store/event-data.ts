import type { Report } from "../../core/report/report.js";
import type { Failure, FinishedReport } from "./records.js";

export type FinalOutcome =
  | { readonly type: "submission.done"; readonly report: FinishedReport }
  | { readonly type: "submission.failed"; readonly failure: Failure };

/**
 * What a receiver is told of a submission: what happened, and where to fetch the rest. The report's SHA-256 lets the receiver check
 * that what it fetches later is what was decided now.
 */
export function finalData(submission: string, outcome: FinalOutcome, publicUrl: string): Record<string, unknown> {
  const links = { url: `${publicUrl}/v1/submissions/${submission}` };
  if (outcome.type === "submission.failed") return { submission, failure: outcome.failure, links };
  const { verdict, heats, digest } = outcome.report;
  return { submission, verdict, heats, report: { url: `${links.url}/report`, sha256: digest } };
}

/** One event for all heats that failed, however many: a receiver that quarantines metal needs no other. */
export function failedHeatsData(
  submission: string,
  { digest }: FinishedReport,
  report: Report,
  publicUrl: string,
): Record<string, unknown> | undefined {
  const failed = report.heats.filter(({ verdict }) => verdict === "fail");
  if (failed.length === 0) return undefined;
  return {
    submission,
    failed: failed.length,
    heats: failed.slice(0, NAMED_HEATS).map(({ heat }) => heat),
    report: { url: `${publicUrl}/v1/submissions/${submission}/report`, sha256: digest },
  };
}

/** A body stays small, as receivers expect; the report names them all. */
const NAMED_HEATS = 100;
