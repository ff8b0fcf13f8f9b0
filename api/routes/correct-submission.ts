import type { Corrections } from "../../core/certificate/corrections.js";
import type { SubmissionRecord } from "../../worker/store/records.js";
import type { AppDeps } from "../deps.js";
import { Problem, type ProblemError } from "../problems.js";
import { documentErased } from "./documents.js";

/**
 * Has a submission judged again with what a person confirmed or corrected, as a submission of its own: what was decided on
 * the first one's report stays provable.
 */
export async function correctSubmission(
  { records }: AppDeps,
  record: SubmissionRecord,
  corrections: Corrections,
  by: string,
): Promise<SubmissionRecord> {
  if (record.state !== "done") throw new Problem("report-not-ready", { headers: { "Retry-After": "1" } });
  if (record.correction) {
    throw new Problem("corrected-already", { detail: `It corrects the submission ${record.correction.of}.` });
  }
  if (record.documentsErasedAt) throw documentErased(record.documentsErasedAt);
  const errors = foreignDocuments(record, corrections);
  if (errors.length > 0) throw new Problem("corrections-invalid", { errors });
  return await records.createSubmission({
    ...(record.owner === undefined ? {} : { owner: record.owner }),
    by,
    requirement: record.requirement,
    documents: record.documents,
    tags: record.tags,
    correction: { of: record.id, corrections },
  });
}

function foreignDocuments({ documents }: SubmissionRecord, { items }: Corrections): ProblemError[] {
  const known = new Set(documents.map(({ sha256 }) => sha256));
  return items.flatMap(({ document }, index) =>
    known.has(document) ? [] : [{ pointer: `/items/${index}/document`, detail: "is no document of this submission" }],
  );
}
