import type { Decimal } from "../quantity/decimal.js";
import type { Quantity } from "../quantity/quantity.js";
import type { Unit } from "../quantity/unit.js";
import type { Chemistry, Ingredient } from "./chemistry.js";

/** A quantity computed from chemistry, under the name by which limits and reports call it. */
export interface Formula {
  /** As a materials engineer writes it: "CE (IIW)", "PREN (16 N)", "FN (WRC-1992)". */
  readonly name: string;
  /** Other spellings that mean exactly this formula. */
  readonly aliases: readonly string[];
  /** The quantity that it computes, where limits can name one. */
  readonly quantity?: Quantity;
  readonly unit: Unit;
  /** Without these there is no result. */
  readonly needs: readonly Ingredient[];
  /** Where these are not reported, the result is known from one side only: see `FormulaValue.low` and `high`. */
  readonly optional: readonly Ingredient[];
  /** In the usual notation, mass % throughout. */
  readonly expression: string;
  readonly source: string;
  readonly known: { readonly how: "seen" | "memory"; readonly sources: number };
  readonly validity: readonly ValidityRange[];
  /** Places that are usually reported; limits compare the unrounded value. */
  readonly reportPlaces: number;
  /** Set where the result should inform and not decide by itself, and why. */
  readonly advisory?: string;
  compute(chemistry: Chemistry): FormulaResult;
}

/** A range of an ingredient for which the formula was made; outside it the result is given with a caution. */
export interface ValidityRange {
  readonly of: Ingredient;
  /** Inclusive. */
  readonly from?: string;
  readonly upTo?: string;
  readonly known: "seen" | "memory";
}

export type FormulaResult =
  | FormulaValue
  /** Needed and not reported. `low` or `high`: what the others prove all the same, since no content is below zero. */
  | {
      readonly kind: "missing";
      readonly missing: readonly Ingredient[];
      readonly low?: Decimal;
      readonly high?: Decimal;
    }
  /** Refused: the formula means nothing there. */
  | { readonly kind: "outside-range"; readonly because: string };

export interface FormulaValue {
  readonly kind: "value";
  /** For showing: bounds ("<0.01") taken at their number, optional ingredients that are not reported left out. */
  readonly value: Decimal;
  /**
   * Where the value surely lies, given what was reported and how far the formula can be trusted. Only these decide a limit.
   * Without bounds, gaps and uncertainty both equal `value`. An end that is absent is open; one end is always known.
   */
  readonly low?: Decimal;
  readonly high?: Decimal;
  /** Optional ingredients that were not reported, and those reported only as a bound. */
  readonly notReported: readonly Ingredient[];
  readonly bounded: readonly Ingredient[];
  /** Why the value is less certain than it looks: validity ranges, routes that disagree. */
  readonly cautions: readonly string[];
}
