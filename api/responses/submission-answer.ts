import type { Report } from "../../core/report/report.js";
import type { SubmissionRecord } from "../../worker/store/records.js";
import { submissionBody } from "./submission-body.js";

export function isFinal(record: SubmissionRecord): boolean {
  return record.state === "done" || record.state === "failed";
}

/**
 * The submission as JSON text. A report that goes with it is put in as it is stored, not printed anew: its bytes are
 * what its digest and signature are about.
 */
export function submissionAnswer(
  record: SubmissionRecord,
  reportJson: string | undefined,
  { secret, withReport }: { readonly secret: string | undefined; readonly withReport: boolean },
): string {
  const report = reportJson === undefined ? undefined : (JSON.parse(reportJson) as Report);
  const body = submissionBody(record, report);
  const told = secret === undefined || !body.callback ? body : { ...body, callback: { ...body.callback, secret } };
  const text = JSON.stringify(told);
  return withReport && reportJson !== undefined ? `${text.slice(0, -1)},"report":${reportJson}}` : text;
}
