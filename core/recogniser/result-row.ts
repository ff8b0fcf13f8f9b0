import type { Reading, Statement } from "../certificate/certificate.js";
import type { Cell } from "./cells.js";
import type { Field } from "./title.js";

/** One row of results: whose they are, as far as the row says, and what was measured. */
export interface ResultRow {
  readonly heat?: Statement;
  /** Its heat stands there and could not be read, so no other heat may have its values. */
  readonly isHeatLost?: true;
  readonly item?: Statement;
  /** The name of its test piece, which may begin with the heat's: "H4471-1". */
  readonly piece?: string;
  readonly fields: readonly FieldStatement[];
  readonly readings: readonly Reading[];
  /** The row's first cell, to place doubts about it. */
  readonly first: Cell;
}

/** A field's text with its place: "Grade" 304L, "Order" 45001. */
export interface FieldStatement {
  readonly field: Field;
  readonly statement: Statement;
}
