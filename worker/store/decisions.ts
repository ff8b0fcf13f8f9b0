import type { Outcome } from "../../core/verdict/finding.js";

/** What a named person did with a heat after its verdict. */
export const ACTIONS = ["accept", "concession", "return", "retest"] as const;
export type Action = (typeof ACTIONS)[number];

export interface Decision {
  readonly id: string;
  readonly submission: string;
  readonly heat: string;
  readonly action: Action;
  readonly person: string;
  readonly reason: string;
  /** Concession number, return note, order for the retest. */
  readonly reference?: string;
  /** The heat's verdict when it was decided. */
  readonly verdict: Outcome;
  readonly createdAt: Date;
}

export interface NewDecision extends Omit<Decision, "id" | "createdAt"> {
  readonly owner: string;
  /** Digest of the report that the person had before them. */
  readonly reportDigest: string;
  /** Name of the key that it was sent with. */
  readonly keyName: string;
}

export interface Decisions {
  /** Never changed afterwards: a change of mind is another decision. */
  add(decision: NewDecision): Promise<Decision>;
  /** Oldest first; the last one for a heat is in force. */
  list(submission: string, owner: string): Promise<readonly Decision[]>;
}
