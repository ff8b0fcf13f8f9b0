import type { Zone } from "../../certificate/certificate.js";
import type { Quantity } from "../../quantity/quantity.js";
import type { Finding } from "../../verdict/finding.js";
import type { Signal } from "../compare/control-limits.js";
import type { ReportReading } from "../report.js";

/** One heat of one report, as the history takes it. */
export interface HistoryEntry {
  readonly heat: string;
  /** Who issued the document that most of its readings stand in. */
  readonly mill: string;
  readonly grades: readonly string[];
  /** ISO date: of the mill's document, or else of when it was handed in. Entries without one have no place in time. */
  readonly date?: string;
  readonly submission?: string;
  readonly readings: readonly ReportReading[];
  readonly findings: readonly Finding[];
}

/** Properties over time for each mill and grade, so that drift is seen before it fails (JSON, version 1). */
export interface HeatHistory {
  readonly history: 1;
  readonly series: readonly HistorySeries[];
  readonly notes: readonly string[];
}

export interface HistorySeries {
  readonly mill: string;
  readonly grade: string;
  readonly quantity: Quantity;
  readonly zone?: Zone;
  /** Impact tests at another temperature are another series. */
  readonly temperature?: string;
  readonly title: string;
  readonly unit: string;
  /** In the order of their dates. */
  readonly points: readonly HistoryPoint[];
  /** Absent for too few heats. */
  readonly limits?: {
    readonly mean: number;
    readonly lower: number;
    readonly upper: number;
    readonly meanRange: number;
    readonly upperRange: number;
    /** How many heats, from the first, they were computed from. */
    readonly fromHeats: number;
  };
  /** What the newest heat was held to, which the control limits have nothing to do with. */
  readonly required: { readonly min?: string; readonly max?: string };
  readonly message: string;
}

export interface HistoryPoint {
  readonly heat: string;
  readonly date: string;
  readonly submission?: string;
  /** The reading with its digits; of several pieces their mean. */
  readonly value: string;
  /** The readings themselves, as they are stored. */
  readonly readings: readonly string[];
  readonly signal?: Signal;
}
