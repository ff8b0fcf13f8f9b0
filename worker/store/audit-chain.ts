import { createHash } from "node:crypto";
import canonicalize from "canonicalize";

/** One thing that happened, and the hash that ties it to everything before it in its client's chain. */
export interface AuditEntry {
  readonly owner: string;
  /** From 1, without gaps. */
  readonly number: number;
  /** ISO 8601, UTC, to the millisecond. */
  readonly at: string;
  /** Who: a person's name, the name of a key, or "heatgate" for the service itself. */
  readonly actor: string;
  readonly kind: AuditKind;
  /** What it is about: the id of a submission, the slug of a requirement, the id of a key. */
  readonly subject: string;
  readonly details: Readonly<Record<string, unknown>>;
  /** Hash of the entry before; 64 zeros for the first. */
  readonly previous: string;
  readonly hash: string;
}

export const AUDIT_KINDS = [
  "submission.accepted",
  "submission.done",
  "submission.failed",
  "submission.erased",
  "documents.erased",
  "heat.decided",
  "requirement.changed",
  "requirement.archived",
  "requirement.restored",
  "key.created",
  "key.revoked",
  "endpoint.created",
  "endpoint.changed",
  "endpoint.disabled",
  "endpoint.deleted",
  "endpoint.secret-changed",
  "signing-key.created",
  "signing-key.revoked",
  "reports.signed-again",
  "sealing-key.replaced",
  "heartbeat.changed",
] as const;
export type AuditKind = (typeof AUDIT_KINDS)[number];

export const CHAIN_START = "0".repeat(64);

/** SHA-256 of the canonical JSON (RFC 8785) of everything in the entry but the hash itself. */
export function auditHash(entry: Omit<AuditEntry, "hash">): string {
  const { owner, number, at, actor, kind, subject, details, previous } = entry;
  const text = canonicalize({ owner, number, at, actor, kind, subject, details, previous })!;
  return createHash("sha256").update(text, "utf8").digest("hex");
}

/** The first thing that is wrong with a chain, in order of number; undefined when it holds together. */
export function faultInChain(entries: readonly AuditEntry[], head: ChainHead = EMPTY_HEAD): string | undefined {
  let { number, hash } = head;
  for (const entry of entries) {
    if (entry.number !== number + 1)
      return `entry ${number + 1} is missing; entry ${entry.number} follows entry ${number}`;
    if (entry.previous !== hash) return `entry ${entry.number} does not follow from the one before it`;
    if (entry.hash !== auditHash(entry)) return `entry ${entry.number} was changed after it was written`;
    ({ number, hash } = entry);
  }
  return undefined;
}

/** Where a chain stands. Kept outside the service it also shows a chain that was cut off at its end. */
export interface ChainHead {
  readonly number: number;
  readonly hash: string;
}

const EMPTY_HEAD: ChainHead = { number: 0, hash: CHAIN_START };
