import type { ReadDocument } from "../../core/recogniser/cells.js";
import type { ReadProblem } from "./problem.js";

export type ReadResult =
  | { readonly ok: true; readonly document: ReadDocument }
  | { readonly ok: false; readonly problem: ReadProblem };

/** As the sender declared it. The bytes decide what a document is; this only names it in messages. */
export interface DocumentHint {
  readonly name: string;
  readonly mediaType: string;
}
