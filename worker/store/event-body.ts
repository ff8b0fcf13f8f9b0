import type { Failure, FinishedReport } from "./records.js";

export type EventOutcome =
  | { readonly type: "submission.done"; readonly report: FinishedReport }
  | { readonly type: "submission.failed"; readonly failure: Failure };

/**
 * What a receiver is sent: what happened, and where to fetch the rest. The report's SHA-256 lets the receiver check
 * that what it fetches later is what was decided now.
 */
export function eventBody(submission: string, at: Date, outcome: EventOutcome, publicUrl: string): string {
  const links = { url: `${publicUrl}/v1/submissions/${submission}` };
  const data =
    outcome.type === "submission.done"
      ? {
          submission,
          verdict: outcome.report.verdict,
          heats: outcome.report.heats,
          report: { url: `${links.url}/report`, sha256: outcome.report.digest },
        }
      : { submission, failure: outcome.failure, links };
  return JSON.stringify({ type: outcome.type, timestamp: at.toISOString(), data });
}
