import type { ReadBudgets } from "../budgets.js";
import type { ReadProblem } from "../problem.js";
import type { DocumentHint } from "../read-result.js";

/** What parent and child say to each other. */
export interface ReadJob {
  readonly path: string;
  readonly hint: DocumentHint;
  readonly budgets: ReadBudgets;
}

export type ParentMessage = { readonly kind: "read"; readonly job: ReadJob };

export type ChildMessage =
  | { readonly kind: "ready" }
  | { readonly kind: "document"; readonly encoded: string }
  /** Too big for the channel: it stands in `RESULT_FILE` in the child's own folder. */
  | { readonly kind: "document-file" }
  | { readonly kind: "problem"; readonly problem: ReadProblem };

export const RESULT_FILE = "result.json";
