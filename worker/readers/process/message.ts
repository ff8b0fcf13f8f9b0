import type { Place } from "../../../core/certificate/evidence.js";
import type { ReadBudgets } from "../budgets.js";
import type { ReadProblem } from "../problem.js";
import type { DocumentHint } from "../read-result.js";

/** What parent and child say to each other. */
export interface ReadJob {
  readonly path: string;
  readonly hint: DocumentHint;
  readonly budgets: ReadBudgets;
  /** Given: pictures of these places are wanted, not the document. */
  readonly crop?: readonly Place[];
  /** Given: the document is wanted as recognised, at this place of its submission (from 0), without its cells. */
  readonly position?: number;
}

export type ParentMessage = { readonly kind: "read"; readonly job: ReadJob };

export type ChildMessage =
  | { readonly kind: "ready" }
  /** A page that takes text recognition begins, which has time of its own. */
  | { readonly kind: "scanned-page" }
  | { readonly kind: "answer"; readonly lines: readonly string[] }
  /** Too big for the channel: it stands in `RESULT_FILE` in the child's own folder. */
  | { readonly kind: "answer-file" }
  | { readonly kind: "problem"; readonly problem: ReadProblem }
  /** Our own code failed on what was read. */
  | { readonly kind: "fault"; readonly message: string };

/**
 * What was asked for comes line by line: a packed document, a recognised one, or each picture as base64 or null. Nothing of it counts before the
 * answer is there and ok.
 */
export type TakeLine = (line: string) => void;
export type ReadAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly problem: ReadProblem; readonly fault?: string };

export const RESULT_FILE = "result.json";
/** Of the folder in the system's temporary one that each child has to itself. */
export const FOLDER_PREFIX = "heatgate-reader-";
