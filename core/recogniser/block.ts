import type { Cell } from "./cells.js";
import type { Grid, Region } from "./grid.js";
import type { Field, Title } from "./title.js";

/** One table with its titles on top: a header band and the rows below it. Tables with titles at the left come turned. */
export interface Block {
  readonly grid: Grid;
  readonly headerRows: readonly number[];
  readonly dataRows: readonly number[];
  readonly turned: boolean;
  /** The column whose words tell the rows apart without being of one kind: "Min", "Heat analysis", "H4471". */
  readonly labelColumn?: number;
  /** Where the block begins in the untouched table, for what stands above it. */
  readonly top: number;
  readonly region: Region;
  /** The heat that stands over it, where several lists stand side by side, each under its own. */
  readonly heat?: Cell;
}

/** Among results, a column is of heats, pieces, temperatures …; "Customer" or "Date" alone make no table. */
export function isColumnField({ field }: Title): boolean {
  return field !== undefined && !OF_THE_DOCUMENT.has(field);
}

const OF_THE_DOCUMENT: ReadonlySet<Field> = new Set([
  "other",
  "issuer",
  "date",
  "certificate-number",
  "certificate-type",
]);
