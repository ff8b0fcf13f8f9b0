import type { Quantity } from "../../quantity/quantity.js";
import type { TensileCurve } from "./curve.js";
import type { CurveDoubt } from "./curve-doubt.js";
import type { ElasticLine } from "./elastic-line.js";
import type { HighestStress } from "./highest-stress.js";
import type { YieldPoint } from "./yield-point.js";

/** What a tensile record gives, with the work shown and everything that was doubted on the way. */
export interface TensileReduction {
  readonly results: readonly ReducedResult[];
  readonly doubts: readonly CurveDoubt[];
  readonly notes: readonly string[];
  /** For pictures and for whoever repeats the work. Absent where the record gave no stress. */
  readonly work?: TensileWork;
}

export interface TensileWork {
  readonly curve: TensileCurve;
  readonly highest: HighestStress;
  readonly line?: ElasticLine;
  readonly yieldPoint?: YieldPoint;
  readonly noiseMPa: number;
}

/** One value out of a reduction, unrounded, in the unit that reports use. */
export interface ReducedResult {
  readonly quantity: Quantity;
  readonly value: number;
  /** How it came about, for the reader of the report. */
  readonly notes: readonly string[];
  /** Why this value alone must not decide, where that is so. */
  readonly doubtful?: string;
}
