import { IdempotencyKeyReused, type NewSubmission, type SubmissionRecord } from "../../worker/store/records.js";
import type { AppDeps } from "../deps.js";
import { Problem } from "../problems.js";
import { contentDigest, fingerprint } from "../requests/idempotency.js";
import { requirementOf } from "../requests/requirement-reference.js";
import type { Received } from "../uploads/received.js";
import { submissionErased } from "./submission-erased.js";

export interface Accepted {
  readonly record: SubmissionRecord;
  /** The callback's secret, where it was made here. */
  readonly secret: string | undefined;
  /** An earlier request led to this submission: one with the same Idempotency-Key, or one that said the same. */
  readonly earlier?: "same key" | "same content";
}

/** Keeps what was received: the bytes first, then the row, so that whatever the row names is already durable. */
export async function acceptSubmission(
  deps: AppDeps,
  owner: string,
  received: Received,
  { by, key, isAgain }: { readonly by: string; readonly key: string | undefined; readonly isAgain: boolean },
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
    if (!earlier.submission) throw submissionErased(earlier.erasure);
    // The answer that told the secret may be the one that was lost.
    const secret = callback?.isSecretNew ? earlier.callbackSecret : undefined;
    return { record: earlier.submission, secret, earlier: "same key" };
  }
  const content = contentDigest(received, requirement, deps.libraryDigest);
  // A key of its own says that this is another submission, whatever is in it.
  const same =
    content && !isAgain && key === undefined ? await deps.records.findSameContent(owner, content) : undefined;
  if (same) return { record: same, secret: undefined, earlier: "same content" };

  const paths = new Map(received.documents.map(({ sha256, path }) => [sha256, path]));
  const keep = (sha256: string) => deps.documents.put(sha256, paths.get(sha256)!);
  for (const sha256 of paths.keys()) await keep(sha256);
  const record = await createSubmission(deps, {
    owner,
    by,
    requirement,
    documents: received.documents.map(({ path: _, ...document }) => document),
    tags: received.tags,
    ...(callback ? { callback: { url: callback.url, secret: callback.secret } } : {}),
    ...(content === undefined ? {} : { content }),
    ...(idempotency ? { idempotency } : {}),
    keepAgain: ({ sha256 }) => keep(sha256),
  });
  if (!callback?.isSecretNew) return { record, secret: undefined };
  // Another process may have kept this key a moment before, with the secret that it made.
  const kept = idempotency && (await deps.records.findByIdempotencyKey(owner, idempotency.key));
  return { record, secret: kept?.callbackSecret ?? callback.secret };
}

async function createSubmission({ records }: AppDeps, submission: NewSubmission): Promise<SubmissionRecord> {
  try {
    return await records.createSubmission(submission);
  } catch (error) {
    // Another process took the same key between the look and the insert.
    if (error instanceof IdempotencyKeyReused) throw new Problem("idempotency-key-reused");
    throw error;
  }
}
