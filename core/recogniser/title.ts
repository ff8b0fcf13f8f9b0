import type { Analysis, Orientation, Zone } from "../certificate/certificate.js";
import type { Measure } from "../quantity/measure.js";
import type { Quantity } from "../quantity/quantity.js";
import type { Unit } from "../quantity/unit.js";

/** What a column, row or cell can be about when it is not a measured quantity. */
export type Field =
  | "heat"
  | "item"
  | "test"
  | "grade"
  | "standard"
  | "form"
  | "thickness"
  | "size"
  | "condition"
  | "certificate-type"
  | "certificate-number"
  | "date"
  | "test-date"
  | "order"
  | "issuer"
  | "temperature"
  | "zone"
  | "orientation"
  | "specimen"
  | "width"
  | "striker"
  | "unit"
  | "property"
  | "value"
  | "analysis"
  | "other";

export type Gauge = "A" | "A4" | "A50" | "A80" | "A200";

/** All that one title says: "Rp 0,2 [N/mm²] min." is a limit for Rp0.2 in N/mm2. */
export interface Title {
  readonly quantity?: Quantity;
  readonly field?: Field;
  readonly group?: "chemistry" | "tensile" | "impact" | "hardness";
  readonly unit?: Unit;
  /** Printed × 10^power is the value: "C x1000" has power -3. */
  readonly power?: number;
  /** "0.2 %" beside a yield title of unstated kind. */
  readonly offset?: "0.2" | "1.0";
  /** "50 mm" or "5d" beside an elongation title. */
  readonly gauge?: Gauge;
  /** Energy without a word on the notch: taken as V and said so. */
  readonly notchAssumed?: boolean;
  readonly striker?: 2 | 8;
  /** "KV2": the striker, unless KV1 and KV3 stand beside it. */
  readonly strikerOrPiece?: boolean;
  readonly statistic?: "single" | "average";
  /** "1", "2", "3" of a set. */
  readonly piece?: string;
  readonly analysis?: Analysis;
  readonly zone?: Zone;
  /** The words that named the zone: FL+1 and FL+5 are both haz, and are different tests. */
  readonly location?: string;
  readonly temperature?: Measure;
  readonly orientation?: Orientation;
  readonly specimenWidth?: Measure;
  readonly role?: "limit" | "result";
  readonly retest?: boolean;
  /** A word on place, direction or temperature was not understood: values under it can't be placed with certainty. */
  readonly doubtful?: boolean;
  /** Words that OCR misread may have said where or how cold the impact test was made. */
  readonly misheard?: boolean;
  /** What an EN 10168 code hints at. It never decides. */
  readonly code?: string;
  /** Mark of a footnote behind the title. */
  readonly mark?: string;
  /** Words that were not understood. A title with any is no title. */
  readonly rest: string;
}
