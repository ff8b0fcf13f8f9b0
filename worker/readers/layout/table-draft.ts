import type { Word } from "./word.js";

/** A table rebuilt from a page, before it is written out as cells. */
export interface TableDraft {
  readonly cells: readonly DraftCell[];
  readonly top: number;
  readonly left: number;
  readonly disputed: boolean;
}

export interface DraftCell {
  readonly row: number;
  readonly column: number;
  readonly rowSpan: number;
  readonly columnSpan: number;
  /** Never empty. */
  readonly words: readonly Word[];
}
