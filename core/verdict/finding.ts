import type { Zone } from "../certificate/certificate.js";
import type { EarlierReading } from "../certificate/earlier-reading.js";

/** Worst first: one fail outweighs any number of passes, and an unknown outweighs a pass. */
export const OUTCOMES = ["fail", "undetermined", "pass", "not-applicable"] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** Quantity of the finding that says which words for a delivery condition are not known; it chose no limit, so it is not applicable. */
export const DELIVERY_CONDITION = "delivery condition";

/** Why a finding could not be decided. */
export const UNDETERMINED_REASONS = [
  "not-reported",
  "unit-unknown",
  "bound-not-decisive",
  "bracket-unknown",
  "low-confidence",
  "contradiction",
  "reference-unverified",
  "gauge-length-unknown",
  "kind-unknown",
  "grade-unknown",
  "grade-ambiguous",
  "grade-not-claimed",
  "document-unreadable",
  "document-type",
  "nothing-judged",
  "test-incomplete",
  "not-comparable",
  "retest-needed",
] as const;
export type UndeterminedReason = (typeof UNDETERMINED_REASONS)[number];

/** One limit held against its readings, as it stands in the report (JSON, version 1). Numbers are text: digits count. */
export interface Finding {
  readonly outcome: Outcome;
  readonly reason?: UndeterminedReason;
  /** Quantity symbol, or a short word for what is no quantity: "document type", "grade", "consistency". */
  readonly quantity: string;
  /** Impact and weld limits: where the test piece was to be taken, also when no reading was found. */
  readonly zone?: Zone;
  /** Ids of the heat's readings that it rests on. */
  readonly readings: readonly number[];
  /** What earlier submissions of the same client had in their place. */
  readonly earlier?: readonly EarlierReading[];
  /** The value that was compared, after the rounding that applies. */
  readonly judged?: string;
  readonly unit?: string;
  readonly limit?: { readonly id: string; readonly min?: string; readonly max?: string; readonly unit: string };
  readonly source: {
    readonly standard: string;
    readonly edition?: string;
    readonly clause?: string;
    /** For people: "seen in 3 sources", "from memory, not verified", "project requirement". */
    readonly known: string;
    /**
     * Rule of judgement 10, for machines. false: the limit, or the rule, formula or tolerance behind it, is recalled from memory,
     * known from a sister standard only, or disputed between sources. true: verified, the user's own, or no limit stands behind it.
     */
    readonly verified: boolean;
  };
  /** Distance to the limit in the limit's unit: negative is outside. */
  readonly margin?: string;
  /** One plain sentence with value, judged value, limit, unit and how far over or under. */
  readonly message: string;
  readonly notes?: readonly string[];
}
