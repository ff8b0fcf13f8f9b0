import type { Corrections } from "../../core/certificate/corrections.js";
import type { Requirement } from "../../core/requirement/requirement.js";
import type { Outcome } from "../../core/verdict/finding.js";
import type { HeatCounts, StoredDocument, SubmissionRecord, SubmissionState } from "./records.js";

/** For a query whose submission table is named `s`. */
export const SUBMISSION_COLUMNS = `
  s.id, s.state, s.owner, s.created_at, s.finished_at, s.requirement, s.tags, s.callback_url, s.verdict, s.heats,
  s.corrections, s.correction_of, s.report_digest, s.documents_erased_at, s.failure_code, s.failure_message,
  (SELECT json_agg(json_build_object('name', d.name, 'sha256', d.sha256, 'bytes', d.bytes, 'mediaType', d.media_type)
                   ORDER BY d.position)
   FROM heatgate.document AS d WHERE d.submission = s.id) AS documents`;

export interface SubmissionRow {
  readonly id: string;
  readonly state: SubmissionState;
  readonly owner: string | null;
  readonly created_at: Date;
  readonly finished_at: Date | null;
  readonly requirement: Requirement | null;
  readonly tags: Record<string, string>;
  readonly callback_url: string | null;
  readonly corrections: Corrections | null;
  readonly correction_of: string | null;
  readonly verdict: Outcome | null;
  readonly heats: HeatCounts | null;
  readonly report_digest: string | null;
  readonly failure_code: string | null;
  readonly failure_message: string | null;
  readonly documents_erased_at: Date | null;
  readonly documents: readonly StoredDocument[] | null;
}

export function readSubmissionRow(row: SubmissionRow): SubmissionRecord {
  return {
    id: row.id,
    state: row.state,
    createdAt: row.created_at,
    requirement: row.requirement,
    documents: row.documents ?? [],
    tags: row.tags,
    ...(row.owner !== null && { owner: row.owner }),
    ...(row.finished_at && { finishedAt: row.finished_at }),
    ...(row.documents_erased_at && { documentsErasedAt: row.documents_erased_at }),
    ...(row.callback_url !== null && { callbackUrl: row.callback_url }),
    ...(row.corrections &&
      row.correction_of && { correction: { of: row.correction_of, corrections: row.corrections } }),
    ...(row.verdict && { verdict: row.verdict }),
    ...(row.heats && { heats: row.heats }),
    ...(row.report_digest && { reportDigest: row.report_digest }),
    ...(row.failure_code && { failure: { code: row.failure_code, message: row.failure_message ?? "" } }),
  };
}
