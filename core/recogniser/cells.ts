import type { Doubt, Place } from "../certificate/evidence.js";

/**
 * What a reader hands over: cells with positions, and nothing of metal. Every reader (workbook, CSV, PDF, scan) ends here.
 */
export interface ReadDocument {
  readonly reader: "xlsx" | "csv" | "text" | "json" | "xml" | "pdf" | "image";
  readonly tables: readonly Table[];
  /** JSON and XML certificates: the value as parsed, numbers kept as their source text. `tables` is empty then. */
  readonly tree?: JsonTree;
  /** Pages of a PDF, sheets of a workbook, where that makes sense. */
  readonly pages?: number;
  /** What the reader could not read: never-calculated formulas, unreadable parts. */
  readonly doubts: readonly PlacedDoubt[];
  /** What an inspector should know of the reading: "decimal comma, semicolon", "OCR at 300 dpi". */
  readonly notes?: readonly string[];
}

/** As `Doubt`, before the reader's document has its position in the submission. */
export type PlacedDoubt = Omit<Doubt, "evidence"> & { readonly place?: Place };

/** A rectangle of cells: a sheet, a CSV file, or one block of a page. Tables come in reading order. */
export interface Table {
  readonly name: string;
  /** Sorted by row, then column. Empty cells are left out. */
  readonly cells: readonly Cell[];
  /** Hidden sheets are handed over and marked; the recogniser reports them and judges nothing from them. */
  readonly hidden?: boolean;
  /** Two ways of rebuilding this table did not agree; readings from it lose confidence. */
  readonly disputed?: boolean;
}

export interface Cell {
  /** From 0. A merged cell stands once, at its top left, with its span. */
  readonly row: number;
  readonly column: number;
  readonly rowSpan?: number;
  readonly columnSpan?: number;
  /** As a person sees it, trimmed of outer space; for a number cell in its number format where that is simple. */
  readonly text: string;
  /**
   * A number cell's stored value as the shortest exact decimal text, always with a point. Absent for text cells, and where the
   * number format shows words before the number ("<0.005"). Under a percent format it is the number shown: 0.02 stored is "2".
   */
  readonly number?: string;
  /** A unit that the number format shows: `0.0 "mm"` gives "mm". */
  readonly formatUnit?: string;
  /** ISO date where the cell's format is a real date. */
  readonly date?: string;
  readonly place: Place;
  /** 1 for text; the word's OCR confidence (0 to 1) for scans. */
  readonly confidence: number;
  readonly hidden?: boolean;
  readonly bold?: boolean;
  /** What a comment that hangs on the cell says. */
  readonly comment?: string;
  /** Other writing at this place, over which it was painted. */
  readonly covers?: string;
  /** Struck through: to be reported, never read. */
  readonly struck?: boolean;
}

/** JSON with each number as the text that stood in the file, so that 0.030 keeps its zeros. */
export type JsonTree =
  | { readonly kind: "object"; readonly entries: readonly (readonly [key: string, value: JsonTree])[] }
  | { readonly kind: "array"; readonly items: readonly JsonTree[] }
  | { readonly kind: "string"; readonly text: string }
  | { readonly kind: "number"; readonly text: string }
  | { readonly kind: "boolean"; readonly value: boolean }
  | { readonly kind: "null" };
