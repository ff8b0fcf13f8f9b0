import type { Orientation, Zone } from "../../certificate/certificate.js";
import type { Place } from "../../certificate/evidence.js";
import type { Measure } from "../../quantity/measure.js";
import type { Quantity } from "../../quantity/quantity.js";
import type { PlacedDoubt } from "../../recogniser/cells.js";

/** A value from a record's header line, with its place. */
export interface Noted<T> {
  readonly value: T;
  readonly printed: string;
  readonly place?: Place;
}

/** What the record says about the test piece. Symbols as in ISO 6892-1:2019, table 1. */
export interface Specimen {
  readonly id?: Noted<string>;
  readonly heat?: Noted<string>;
  readonly material?: Noted<string>;
  readonly standard?: Noted<string>;
  readonly zone?: Noted<Zone>;
  readonly orientation?: Noted<Orientation>;
  readonly temperature?: Noted<Measure>;
  /** b0 */
  readonly widthMm?: Noted<number>;
  /** a0 */
  readonly thicknessMm?: Noted<number>;
  /** d0 */
  readonly diameterMm?: Noted<number>;
  /** S0 */
  readonly areaMm2?: Noted<number>;
  /** L0 */
  readonly gaugeLengthMm?: Noted<number>;
  /** Le */
  readonly extensometerLengthMm?: Noted<number>;
  /** Lc */
  readonly parallelLengthMm?: Noted<number>;
  /** Lu */
  readonly finalLengthMm?: Noted<number>;
  /** Su */
  readonly finalAreaMm2?: Noted<number>;
  readonly finalWidthMm?: Noted<number>;
  readonly finalThicknessMm?: Noted<number>;
  readonly finalDiameterMm?: Noted<number>;
}

/** A result that the laboratory states itself, in the unit that reports use. */
export interface StatedResult {
  readonly quantity: Quantity;
  readonly value: number;
  readonly printed: string;
  readonly place: Place;
}

/** Columns of one record in SI, one value a row, NaN where the cell was empty or no number. */
export interface TensileColumns {
  readonly timeSeconds?: Float64Array;
  readonly forceNewton?: Float64Array;
  readonly stressMPa?: Float64Array;
  /** Strain on the gauge length, as a ratio. */
  readonly strain?: Float64Array;
  /** Extension of the extensometer's gauge length. */
  readonly extensionMm?: Float64Array;
  readonly crossheadMm?: Float64Array;
}

/** One tensile test as recorded, before anything is reduced. */
export interface TensileRecord {
  readonly columns: TensileColumns;
  readonly rows: number;
  readonly specimen: Specimen;
  readonly stated: readonly StatedResult[];
  /** First and last cell of the curve. */
  readonly place: Place;
  readonly lastPlace: Place;
  readonly notes: readonly string[];
  readonly doubts: readonly RecordDoubt[];
}

/** Something seen while the record was read, and what must not decide because of it. */
export type RecordDoubt = PlacedDoubt & { readonly affects: readonly Quantity[] };
