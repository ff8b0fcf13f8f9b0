import type { Requirement } from "../../core/requirement/requirement.js";
import type { Failure } from "./records.js";

/** dry-run: what another requirement would change. grades: which grades of the library the heats meet. */
export type TrialKind = "dry-run" | "grades";

/** A question about a finished submission that a worker answers. accepted → done | failed. */
export interface TrialRecord {
  readonly id: string;
  readonly kind: TrialKind;
  readonly submission: string;
  readonly state: "accepted" | "done" | "failed";
  readonly createdAt: Date;
  /** As `core/report/report-difference` and `core/report/match` write it. */
  readonly result?: unknown;
  readonly failure?: Failure;
}

export interface NewTrial {
  readonly kind: TrialKind;
  readonly submission: string;
  /** Only this heat of the submission. */
  readonly heat?: string;
  readonly requirement?: Requirement;
}

export interface Trials {
  /** Of the grades there is one trial to a submission: asking again answers with it. */
  create(trial: NewTrial): Promise<TrialRecord>;
  /** Only if it is about this submission, and the submission is the owner's. */
  get(id: string, submission: string, owner: string): Promise<TrialRecord | undefined>;
  /** Resolves when it is final or the time is over, whichever is first. */
  waitUntilFinal(trial: TrialRecord, timeoutMs: number): Promise<TrialRecord>;
}
