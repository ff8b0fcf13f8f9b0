import type { Requirement } from "../../core/requirement/requirement.js";
import type { Outcome } from "../../core/verdict/finding.js";

/**
 * The truth about submissions. PGlite and PostgreSQL implement it with the same SQL; the queue is only a hint.
 * accepted → working → done | failed. The last two are final.
 */
export type SubmissionState = "accepted" | "working" | "done" | "failed";

export interface StoredDocument {
  readonly name: string;
  /** Lower-case hexadecimal. The bytes live in the document store under this name. */
  readonly sha256: string;
  readonly bytes: number;
  /** As declared by the sender; what it really is, the reader decides from the bytes. */
  readonly mediaType: string;
}

export interface SubmissionRecord {
  readonly id: string;
  readonly state: SubmissionState;
  readonly createdAt: Date;
  readonly finishedAt?: Date;
  readonly requirement: Requirement | null;
  readonly documents: readonly StoredDocument[];
  readonly tags: Readonly<Record<string, string>>;
  readonly callbackUrl?: string;
  readonly verdict?: Outcome;
  /** SHA-256 of the report's bytes, hexadecimal. */
  readonly reportDigest?: string;
  /** Why it failed for good: a typed code, a sentence, and what to do. Not a verdict on the metal. */
  readonly failure?: { readonly code: string; readonly message: string };
}

export interface NewSubmission {
  readonly requirement: Requirement | null;
  readonly documents: readonly StoredDocument[];
  readonly tags?: Readonly<Record<string, string>>;
  readonly callback?: { readonly url: string; readonly secret: string };
}

/** Keeps document bytes by SHA-256; putting the same bytes twice keeps one copy. Bytes are durable before `put` resolves. */
export interface DocumentStore {
  put(sha256: string, path: string): Promise<void>;
  get(sha256: string): Promise<Uint8Array>;
}

export interface Records {
  /** Commits the submission (and, where the queue is PostgreSQL, its job in the same transaction) before it resolves. */
  createSubmission(submission: NewSubmission): Promise<SubmissionRecord>;
  getSubmission(id: string): Promise<SubmissionRecord | undefined>;
  getReport(id: string): Promise<{ readonly json: string; readonly digest: string } | undefined>;
  markWorking(id: string): Promise<void>;
  /** Stores report, final state and the outgoing event in one transaction. A second call for one id changes nothing. */
  finish(
    id: string,
    result: { readonly json: string; readonly digest: string; readonly verdict: Outcome },
  ): Promise<void>;
  fail(id: string, failure: { readonly code: string; readonly message: string }): Promise<void>;
  /** Resolves when the submission is final or the time is over, whichever is first; woken at once, not by polling alone. */
  waitUntilFinal(id: string, timeoutMs: number): Promise<SubmissionRecord | undefined>;
  close(): Promise<void>;
}
