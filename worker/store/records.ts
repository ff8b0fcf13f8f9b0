import type { Corrections } from "../../core/certificate/corrections.js";
import type { EarlierHeat } from "../../core/certificate/earlier-reading.js";
import type { SpotPicture } from "../../core/report/spot-picture.js";
import type { Requirement } from "../../core/requirement/requirement.js";
import type { Outcome } from "../../core/verdict/finding.js";
import type { EventType } from "./event-types.js";
import type { ReportSignature } from "./signing/report-signer.js";

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
  /** Who handed it in (the id of an API key); absent where the service runs without keys. */
  readonly owner?: string;
  readonly createdAt: Date;
  readonly finishedAt?: Date;
  readonly requirement: Requirement | null;
  readonly documents: readonly StoredDocument[];
  /** The time of the documents' bytes was over before that of the submission; nobody can read them any more. */
  readonly documentsErasedAt?: Date;
  readonly tags: Readonly<Record<string, string>>;
  readonly callbackUrl?: string;
  /** What a person confirmed or corrected in the documents of another submission. */
  readonly correction?: Correction;
  readonly verdict?: Outcome;
  /** How many heats ended with each outcome. Present when done. */
  readonly heats?: HeatCounts;
  /** SHA-256 of the report's bytes, hexadecimal. */
  readonly reportDigest?: string;
  /** Why it failed for good: a typed code, a sentence, and what to do. Not a verdict on the metal. */
  readonly failure?: Failure;
}

export interface Correction {
  /** The submission that was corrected. */
  readonly of: string;
  readonly corrections: Corrections;
}

export type HeatCounts = Readonly<Record<Outcome, number>>;

export interface Failure {
  readonly code: string;
  readonly message: string;
}

export interface NewSubmission {
  readonly owner?: string;
  /** Who hands it in, for the owner's audit trail. */
  readonly by?: string;
  readonly requirement: Requirement | null;
  readonly documents: readonly StoredDocument[];
  readonly tags?: Readonly<Record<string, string>>;
  readonly callback?: { readonly url: string; readonly secret: string };
  /** The receiver of the corrected submission is told of this one as well. */
  readonly correction?: Correction;
  /** Digest of everything that the report depends on, by which `findSameContent` finds it. */
  readonly content?: string;
  /**
   * The sender's own name for this request. The key is kept in the submission's transaction: a second call with the same
   * key and fingerprint answers the first one's record, with another fingerprint it throws `IdempotencyKeyReused`.
   */
  readonly idempotency?: { readonly key: string; readonly fingerprint: string };
  /**
   * Puts a document's bytes into the store once more, for those that were erased meanwhile. Without it all of them must be in the store
   * for another submission's sake, or this one is refused with `DocumentsErased`.
   */
  keepAgain?(document: StoredDocument): Promise<void>;
  /** Ours and nobody's: it is judged like any other, and leaves no entry in the audit trail. */
  readonly isHeartbeat?: true;
}

export interface KeptIdempotencyKey {
  /** Absent where it has been erased since. */
  readonly submission?: SubmissionRecord;
  readonly erasure?: Erasure;
  readonly fingerprint: string;
  /** For the sender, whose first answer may have been lost. */
  readonly callbackSecret?: string;
}

export class IdempotencyKeyReused extends Error {
  override readonly name = "IdempotencyKeyReused";
}

/** Asked for by whom, and why. */
export interface ErasureRequest {
  /** Who answers for it; "heatgate" where the time to keep it was over. */
  readonly person: string;
  /** Name of the key that it was asked with. */
  readonly keyName?: string;
  readonly reason: string;
  readonly reference?: string;
}

/** What is left of an erased submission. */
export interface Erasure extends ErasureRequest {
  readonly submission: string;
  readonly handedInAt: Date;
  readonly erasedAt: Date;
  readonly correctionOf?: string;
  /** SHA-256 of each. */
  readonly documents: readonly string[];
  readonly reportDigest?: string;
}

/** The submission was erased while something was to be added to it. */
export class SubmissionErased extends Error {
  override readonly name = "SubmissionErased";
  constructor(readonly erasure?: Erasure) {
    super("The submission was erased.");
  }
}

/** The submission is kept, the bytes of its documents are not. */
export class DocumentsErased extends Error {
  override readonly name = "DocumentsErased";
}

/** Keeps document bytes by SHA-256; putting the same bytes twice keeps one copy. Bytes are durable before `put` resolves. */
export interface DocumentStore {
  /** Keeps the bytes of the file at `path`. The file itself stays its owner's, who must not write to it any more. */
  put(sha256: string, path: string): Promise<void>;
  get(sha256: string): Promise<Uint8Array>;
  /** The bytes as a file on this machine, for readers that run in a process of their own. */
  checkOut(sha256: string): Promise<{ readonly path: string; release(): Promise<void> }>;
  /** Bytes that are not there are no error. Who may call it: `removeErasedBytes` alone, which knows that nobody needs them. */
  remove(sha256: string): Promise<void>;
  /** Throws when bytes could not be stored now. */
  check(): Promise<void>;
}

export interface ListFilter {
  readonly owner?: string;
  readonly state?: SubmissionState;
  readonly verdict?: Outcome;
  /** Every given tag must match. */
  readonly tags?: Readonly<Record<string, string>>;
  readonly createdFrom?: Date;
  readonly createdBefore?: Date;
}

export interface Page<Item> {
  readonly items: readonly Item[];
  /** Opaque; absent on the last page. */
  readonly next?: string;
}

/** Something that happened, as sent to receivers and as read from the event feed. */
export interface EventRecord {
  readonly id: string;
  /** Grows with every event; the feed's cursor. */
  readonly sequence: number;
  readonly type: EventType;
  /** Absent where it is about no submission. */
  readonly submission?: string;
  readonly createdAt: Date;
  /** The body as sent, byte for byte. */
  readonly body: string;
}

/** pending: more tries are planned. disabled: the receiver answered 410 and gets nothing more. */
export type DeliveryState = "pending" | "delivered" | "failed" | "disabled";

export interface DeliveryRecord {
  readonly id: string;
  readonly event: string;
  readonly submission?: string;
  /** The registered endpoint that it goes to; absent for a submission's callback. */
  readonly endpoint?: string;
  /** Of an endpoint no more than the origin. */
  readonly url: string;
  readonly state: DeliveryState;
  readonly nextAttemptAt?: Date;
  readonly attempts: readonly DeliveryAttempt[];
}

export interface DeliveryAttempt {
  readonly attempt: number;
  readonly startedAt: Date;
  readonly durationMs: number;
  /** The receiver's answer; absent when none came. */
  readonly status?: number;
  /** The address that was connected to. */
  readonly address?: string;
  /** Typed reason when it did not count as delivered: "address-blocked", "timeout", "status", … */
  readonly problem?: string;
  readonly detail?: string;
  /** First 4 kB of the answer. */
  readonly answer?: string;
}

export interface Backlog {
  readonly accepted: number;
  readonly working: number;
  readonly oldestPendingSeconds: number;
  readonly deliveriesPending: number;
}

/** Said where the service itself asks, for no client. A client's name that is missing by mistake cannot come to stand for all. */
export const EVERY_OWNER: unique symbol = Symbol("every owner");

/** Whose thing it must be: what is another's is as if it were not there. */
export type OwnerAsked = string | typeof EVERY_OWNER;

/** For a query, in which NULL asks for no owner. */
export function ownerParameter(owner: OwnerAsked): string | null {
  return owner === EVERY_OWNER ? null : owner;
}

export interface Records {
  /** Commits the submission (and, where the queue is PostgreSQL, its job in the same transaction) before it resolves. */
  createSubmission(submission: NewSubmission): Promise<SubmissionRecord>;
  /** `owner` given: only if it is theirs. */
  getSubmission(id: string, owner?: string): Promise<SubmissionRecord | undefined>;
  /** Newest first, stable while new ones arrive. Throws `BadCursor` for a cursor that this service did not give out. */
  listSubmissions(filter: ListFilter, limit: number, cursor?: string): Promise<Page<SubmissionRecord>>;
  /** The record that an idempotency key led to, within its lifetime. */
  findByIdempotencyKey(owner: string | undefined, key: string): Promise<KeptIdempotencyKey | undefined>;
  /** The newest submission of the last 24 hours with this content that did not fail. */
  findSameContent(owner: string, content: string): Promise<SubmissionRecord | undefined>;
  getReport(id: string, owner: OwnerAsked): Promise<StoredReport | undefined>;
  /** What the documents show where the report's values were read; empty where none were taken. */
  getPictures(id: string, owner: OwnerAsked): Promise<readonly SpotPicture[]>;

  /** Counts this start. "given-up": the starts before this one all died, and nobody should try again. */
  markWorking(id: string, startsAllowed: number): Promise<"started" | "final" | "given-up" | "unknown">;
  /** Takes back the count of a start that ended in an error instead of dying. */
  markInterrupted(id: string): Promise<void>;
  /**
   * Stores report, pictures, final state and the outgoing event in one transaction. A second call for one id changes nothing. False,
   * and nothing stored: another submission of the same heats has come in between, and this one must be judged knowing it.
   */
  finish(id: string, result: FinishedReport): Promise<boolean>;
  fail(id: string, failure: Failure): Promise<void>;
  /** Resolves when the submission is final or the time is over, whichever is first; woken at once, not by polling alone. */
  waitUntilFinal(id: string, timeoutMs: number): Promise<SubmissionRecord | undefined>;

  /** Events after this sequence number, oldest first. */
  listEvents(owner: string | undefined, after: number, limit: number): Promise<readonly EventRecord[]>;
  listDeliveries(submissionId: string, owner: OwnerAsked): Promise<readonly DeliveryRecord[]>;
  /** Events of this owner up to this number are kept no more; 0: all are. */
  eventHorizon(owner: string | undefined): Promise<number>;
  /** Sends what receivers were told of a submission again now, with the same ids. False: it is not final, or has no receiver. */
  redeliver(submissionId: string, owner: OwnerAsked): Promise<boolean>;

  /**
   * Erases a submission, whatever its state, with everything that was made of it and with the submissions that correct it. Bytes that
   * nobody else needs are for `removeErasedBytes`. Undefined: there is none, or it is not this owner's.
   */
  erase(id: string, owner: string, asked: ErasureRequest): Promise<Erasure | undefined>;
  /** `owner` given: only if it was theirs. */
  getErasure(id: string, owner?: string): Promise<Erasure | undefined>;

  countBacklog(): Promise<Backlog>;
  /** Throws when the records cannot be reached and written. */
  check(): Promise<void>;
  close(): Promise<void>;
}

export interface FinishedReport {
  readonly json: string;
  readonly digest: string;
  readonly verdict: Outcome;
  readonly heats: HeatCounts;
  /** What earlier submissions say of the report's heats, as the judge was given it. */
  readonly earlier?: readonly EarlierHeat[];
  /** What was read, packed, to be judged again some day. */
  readonly evidence?: Uint8Array;
  readonly pictures?: readonly SpotPicture[];
}

export interface StoredReport {
  readonly json: string;
  readonly digest: string;
  readonly signature: ReportSignature;
}

export class BadCursor extends Error {
  override readonly name = "BadCursor";
}
