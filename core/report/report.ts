import type { Zone } from "../certificate/certificate.js";
import type { Doubt, Evidence } from "../certificate/evidence.js";
import type { Finding, Outcome } from "../verdict/finding.js";

/** Report (JSON, version 1). It holds no clock and no id of its own: same inputs, same bytes. */
export interface Report {
  readonly report: 1;
  readonly verdict: Outcome;
  readonly requirement: { readonly name: string; readonly digest: string } | null;
  readonly documents: readonly ReportDocument[];
  readonly heats: readonly ReportHeat[];
  /** Who confirmed or corrected readings; each reading says so itself too. */
  readonly corrections?: { readonly by: string; readonly date: string; readonly items: number };
  /** Every grade file that was held against a heat, so that the report can be repeated. */
  readonly library: readonly { readonly id: string; readonly digest: string }[];
  readonly cautions: readonly string[];
}

export interface ReportDocument {
  readonly name: string;
  readonly sha256: string;
  readonly reader: string;
  readonly pages?: number;
  readonly type?: string;
  readonly number?: string;
  readonly issuer?: string;
  readonly date?: string;
  readonly order?: string;
  readonly notes?: readonly string[];
  readonly doubts: readonly Doubt[];
}

export interface ReportHeat {
  readonly heat: string;
  /** Where the documents name it. Reports made before this was reported lack it. */
  readonly evidence?: readonly Evidence[];
  readonly verdict: Outcome;
  /** Grades that the heat was held to, by name. */
  readonly grades: readonly {
    readonly id: string;
    readonly standard: string;
    readonly edition: string;
    readonly name: string;
    readonly chosen: string;
  }[];
  readonly product?: { readonly form?: string; readonly thickness?: string; readonly condition?: string };
  readonly readings: readonly ReportReading[];
  readonly findings: readonly Finding[];
  /** Indices from the heat analysis, for information. */
  readonly computed?: readonly ReportComputed[];
  /** Remarks on welding and service, for information. */
  readonly hints?: readonly ReportHint[];
}

export interface ReportComputed {
  readonly name: string;
  readonly value: string;
  readonly unit: string;
  /** Where operands or the formula are uncertain: where the value surely lies. null: that end is not known. */
  readonly low?: string | null;
  readonly high?: string | null;
  readonly expression: string;
  readonly source: string;
  readonly notReported?: readonly string[];
  readonly cautions?: readonly string[];
}

export interface ReportHint {
  readonly message: string;
  readonly restsOn: string;
}

/** A reading as reported: `value` and `unit` are SI as the standards use it, `printed` is the certificate's own text. */
export interface ReportReading {
  /** From 1 within the heat. */
  readonly id: number;
  readonly quantity: string;
  readonly analysis?: string;
  readonly printed: string;
  /** The unit the paper states, where it differs from `unit`. */
  readonly stated?: string;
  readonly value: string;
  readonly unit: string;
  readonly bound?: string;
  readonly confidence: number;
  readonly evidence: Evidence;
  readonly zone?: Zone;
  readonly temperature?: string;
  readonly orientation?: string;
  readonly specimen?: string;
  readonly striker?: number;
  readonly test?: string;
  readonly statistic?: string;
  readonly retest?: boolean;
  readonly notes?: readonly string[];
}
