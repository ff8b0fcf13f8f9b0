import type { Decimal } from "../quantity/decimal.js";
import type { Measure } from "../quantity/measure.js";
import type { Quantity } from "../quantity/quantity.js";
import type { Unit } from "../quantity/unit.js";
import type { Doubt, Evidence } from "./evidence.js";

export type Zone = "base" | "weld" | "haz";
/** Direction of the test piece to the rolling direction. */
export type Orientation = "longitudinal" | "transverse" | "through-thickness";
/** heat: cast (ladle) analysis. product: check analysis on the product. Absent on a reading: the paper does not say. */
export type Analysis = "heat" | "product";

/**
 * One value read. `value` and `unit` are as stated on the paper after its multipliers ("18" under "C x1000" is 0.018 %),
 * before any conversion; `printed` is the text as it stood, multiplier not applied.
 */
export interface Reading {
  readonly quantity: Quantity;
  readonly printed: string;
  readonly value: Decimal;
  readonly unit: Unit;
  /** "<0.005" bounds the value from above: bound "<". Absent: the value itself. */
  readonly bound?: "<" | "<=" | ">" | ">=";
  /**
   * 1: machine-readable text, unit and meaning stated. Below 1: how far the recogniser or OCR trusts it.
   * Findings that rest on a reading below `CONFIDENCE_THRESHOLD` are undetermined, low-confidence.
   */
  readonly confidence: number;
  readonly evidence: Evidence;
  readonly analysis?: Analysis;
  readonly zone?: Zone;
  readonly temperature?: Measure;
  readonly orientation?: Orientation;
  /** Width of the impact test piece across the notch plane, where stated (10 mm is full size). */
  readonly specimenWidth?: Measure;
  /** Striker radius of the pendulum, mm, where stated (KV2: 2, KV8: 8). */
  readonly striker?: 2 | 8;
  /** Readings of one test (a set of three impact singles with their average, one tensile piece) share this name. */
  readonly test?: string;
  /** Impact and hardness sets: one piece's value, or the printed mean of the set. Absent: single. */
  readonly statistic?: "single" | "average";
  /** Result of a repeat test after a failure, where the paper says so. */
  readonly retest?: boolean;
  /** What was noticed on the way, shown with the reading: "reduced from the curve", "OCR", "confirmed by …". */
  readonly notes?: readonly string[];
}

/** A reading with its number in the report, from 1 within the heat. */
export interface NumberedReading extends Reading {
  readonly id: number;
}

/** Below this confidence a reading cannot decide; see `Reading.confidence`. */
export const CONFIDENCE_THRESHOLD = 0.85;

/** A word or phrase read, with its place: a heat number, a grade claimed, a condition. */
export interface Statement<T = string> {
  readonly value: T;
  readonly printed: string;
  readonly confidence: number;
  readonly evidence: Evidence;
}

/** A grade that the certificate claims, in its own words, split where it could be: "ASTM A240-18 Type 304L". */
export interface GradeClaim {
  /** "ASTM A240/A240M", "EN 10028-7"; absent where only a grade is named. As written, tidied. */
  readonly standard?: string;
  readonly edition?: string;
  readonly grade: string;
}

export interface Product {
  /** plate, sheet, strip, bar, pipe, tube, forging, fitting, casting, wire, weld metal … in lower case. */
  readonly form?: Statement;
  readonly thickness?: Statement<Measure>;
  /** Delivery condition as written, tidied: "solution annealed", "1/4 hard". */
  readonly condition?: Statement;
}

export interface HeatRecord {
  /** As printed, and with its place. Joining compares the normalised form. */
  readonly heat: Statement;
  readonly readings: readonly Reading[];
  readonly claims: readonly Statement<GradeClaim>[];
  readonly product: Product;
}

/** What one document says, after recognition. Values stated once for the page are already copied onto its heats. */
export interface Certificate {
  /** EN 10204 inspection document type as claimed: "2.1", "2.2", "3.1", "3.2" (old 3.1.B reads as 3.1). */
  readonly type?: Statement;
  readonly number?: Statement;
  readonly issuer?: Statement;
  /** ISO date, yyyy-mm-dd, where it could be read without doubt. */
  readonly date?: Statement;
  readonly testDate?: Statement;
  readonly order?: Statement;
  /** Lines by which the paper says that it does not count or was not measured: "PRELIMINARY", "typical values". */
  readonly reservations?: readonly Statement[];
  readonly heats: readonly HeatRecord[];
  readonly doubts: readonly Doubt[];
  /** What was seen and rightly not read: "Line 12: limits (max …), not taken for results." */
  readonly notes?: readonly string[];
}
