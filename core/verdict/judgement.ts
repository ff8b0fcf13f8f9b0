import type { NumberedReading, Zone } from "../certificate/certificate.js";
import type { EarlierReading } from "../certificate/earlier-reading.js";
import type { Known } from "../grades/grade.js";
import type { Decimal } from "../quantity/decimal.js";
import type { Unit } from "../quantity/unit.js";
import type { Outcome, UndeterminedReason } from "./finding.js";

/** Where a limit comes from and how it is known. */
export interface LimitSource {
  readonly standard: string;
  readonly edition?: string;
  readonly clause?: string;
  /** Absent: the project's own requirement, which needs no verification. */
  readonly known?: Known;
  /** A rule, formula or tolerance without which this finding would not stand: the limit is known no better than it. */
  readonly by?: { readonly name: string; readonly known: Known };
}

/** A bound held against readings, from a grade or from the project, in the unit system that the readings are in. */
export interface BoundLimit {
  readonly id: string;
  /** What the report calls the quantity: "C", "Ti", "Cu+Ni+Cr+Mo", "KV". */
  readonly quantity: string;
  readonly min?: Decimal;
  readonly max?: Decimal;
  readonly unit: Unit;
  readonly source: LimitSource;
  /** Name of the grade for the sentence: "S30403 (304L)". Absent: the project. */
  readonly holder?: string;
}

/**
 * A finding before its words: facts only. `core/report/wording` turns it into a sentence, so that no number is written twice
 * and the wording of all findings stands in one place.
 */
export interface Judgement {
  readonly outcome: Outcome;
  readonly reason?: UndeterminedReason;
  readonly quantity: string;
  /** Impact: where the test pieces were to be taken, also when none were found. */
  readonly zone?: Zone;
  readonly readings: readonly NumberedReading[];
  /** Readings of earlier submissions that they are held against. */
  readonly earlier?: readonly EarlierReading[];
  readonly judged?: Decimal;
  readonly unit?: Unit;
  readonly limit?: BoundLimit;
  readonly source: LimitSource;
  /** Distance to the nearest bound in the limit's unit: negative is outside. */
  readonly margin?: Decimal;
  /** What the sentence says beyond value and limit. */
  readonly says: Saying;
  readonly notes: readonly Note[];
}

/** Why the outcome is as it is. One sentence each in the wording. */
export type Saying =
  /** `known`: a computed value is known as a range, of which this end decides. */
  | { readonly code: "compared"; readonly known?: "at least" | "at most" }
  | { readonly code: "not-reported"; readonly what?: string }
  | { readonly code: "bound-not-decisive"; readonly bound: string }
  | { readonly code: "other-unit-system"; readonly stated: string }
  | { readonly code: "retest-open" }
  | { readonly code: "only-retest" }
  | { readonly code: "bound-depends"; readonly on: readonly string[] }
  | { readonly code: "low-confidence"; readonly confidence: number }
  | { readonly code: "doubted"; readonly doubt: string }
  | { readonly code: "unit-unknown"; readonly stated: string }
  | { readonly code: "unverified"; readonly side: "below" | "above" }
  /** `printed`: the bound that is crossed, without the tolerance; a tolerance of zero: none is held. */
  | {
      readonly code: "tolerance-unverified";
      readonly side: "below" | "above";
      readonly printed: Decimal;
      readonly tolerance: Decimal;
    }
  | { readonly code: "brackets-disagree"; readonly unknown: readonly string[] }
  | { readonly code: "kind-unknown"; readonly stated: string }
  | { readonly code: "gauge-unknown"; readonly wanted: string }
  | { readonly code: "gauge-differs"; readonly reported: string; readonly wanted: string }
  | { readonly code: "scale-differs"; readonly reported: string; readonly wanted: string }
  | { readonly code: "only-elsewhere"; readonly where: string }
  | { readonly code: "alternative-reported"; readonly instead: string }
  | {
      readonly code: "uncertain";
      readonly low?: Decimal;
      readonly high?: Decimal;
      readonly notReported: readonly string[];
    }
  | {
      readonly code: "form-not-covered";
      readonly form: string;
      readonly covered: readonly string[];
      readonly holder: string;
    }
  | { readonly code: "strange-condition"; readonly words: readonly string[]; readonly taken?: string }
  | { readonly code: "only-if-ordered" }
  | { readonly code: "reported" }
  | { readonly code: "not-for-this-product"; readonly because: string }
  | { readonly code: "operand-missing"; readonly of: string; readonly missing: readonly string[] }
  | { readonly code: "outside-range"; readonly of: string; readonly because: string }
  | { readonly code: "straddles" }
  | { readonly code: "document-type"; readonly stated?: string; readonly wanted: string }
  | { readonly code: "document-types-differ"; readonly stated: readonly string[]; readonly wanted: string }
  | { readonly code: "grade-unknown"; readonly text: string; readonly near: readonly string[] }
  | { readonly code: "grade-ambiguous"; readonly text: string; readonly candidates: readonly string[] }
  | { readonly code: "grade-not-claimed"; readonly wanted: string; readonly claimed: readonly string[] }
  | { readonly code: "nothing-judged" }
  | { readonly code: "impact-set"; readonly fault: string }
  | { readonly code: "passed-on-retest"; readonly because: string }
  | { readonly code: "contradiction"; readonly what: string };

/** A remark beside a finding, in the same spirit. */
export type Note =
  | {
      readonly code: "methods-disagree";
      readonly absolute: Outcome;
      readonly rounding: Outcome;
      /** Half to even unless rule B is named. */
      readonly ruleB?: true;
    }
  | { readonly code: "unverified-pass" }
  | { readonly code: "product-analysis"; readonly tolerance?: Decimal }
  | { readonly code: "analysis-not-stated" }
  | { readonly code: "implied-kind"; readonly stated: string; readonly taken: string; readonly standard: string }
  | { readonly code: "zone-not-stated"; readonly taken: Zone }
  | { readonly code: "inherent-condition"; readonly condition: string }
  | { readonly code: "all-brackets-agree"; readonly unknown: readonly string[] }
  | { readonly code: "converted"; readonly from: string }
  | { readonly code: "inch-pound" }
  | { readonly code: "size-not-stated" }
  | { readonly code: "held-at-bound"; readonly bound: string }
  | { readonly code: "sub-size"; readonly width: string; readonly rule: string }
  | { readonly code: "retest"; readonly allowed: "yes" | "no" | "person"; readonly because: string }
  | { readonly code: "text"; readonly text: string };
