import type { Requirement } from "../../core/requirement/requirement.js";
import { IdempotencyKeyReused, type SubmissionRecord } from "../../worker/store/records.js";
import type { AppDeps } from "../deps.js";
import { Problem } from "../problems.js";
import { fingerprint } from "../requests/idempotency.js";
import { requirementOf } from "../requests/requirement-reference.js";
import type { Received } from "../uploads/received.js";

export interface Accepted {
  readonly record: SubmissionRecord;
  /** The callback's secret, where it was made here. */
  readonly secret: string | undefined;
  /** An earlier request with the same Idempotency-Key led to this submission. */
  readonly isReplay: boolean;
}

/** Keeps what was received: the bytes first, then the row, so that whatever the row names is already durable. */
export async function acceptSubmission(
  deps: AppDeps,
  owner: string,
  received: Received,
  key: string | undefined,
): Promise<Accepted> {
  const { callback } = received;
  const callbackProblem = callback && deps.callbackProblem(callback.url);
  if (callbackProblem) {
    const errors = [{ pointer: "/url", detail: callbackProblem }];
    throw new Problem("callback-refused", { detail: callbackProblem, errors });
  }

  const requirement = await requirementOf(received.requirementText, owner, deps.requirements);
  const idempotency = key === undefined ? undefined : { key, fingerprint: fingerprint(received, requirement) };
  const earlier = idempotency && (await deps.records.findByIdempotencyKey(owner, idempotency.key));
  if (earlier) {
    if (earlier.fingerprint !== idempotency.fingerprint) throw new Problem("idempotency-key-reused");
    return { record: earlier.submission, secret: undefined, isReplay: true };
  }

  for (const document of received.documents) await deps.documents.put(document.sha256, document.path);
  const record = await createSubmission(deps, owner, received, requirement, idempotency);
  return { record, secret: callback?.isSecretNew ? callback.secret : undefined, isReplay: false };
}

async function createSubmission(
  { records }: AppDeps,
  owner: string,
  { documents, tags, callback }: Received,
  requirement: Requirement | null,
  idempotency: { readonly key: string; readonly fingerprint: string } | undefined,
): Promise<SubmissionRecord> {
  try {
    return await records.createSubmission({
      owner,
      requirement,
      documents: documents.map(({ path: _, ...document }) => document),
      tags,
      ...(callback ? { callback: { url: callback.url, secret: callback.secret } } : {}),
      ...(idempotency ? { idempotency } : {}),
    });
  } catch (error) {
    // Another process took the same key between the look and the insert.
    if (error instanceof IdempotencyKeyReused) throw new Problem("idempotency-key-reused");
    throw error;
  }
}
