import { type Decimal, decimal } from "../quantity/decimal.js";
import type { Element } from "../quantity/quantity.js";

/** What a formula may ask for: contents in mass %, and `G`, the ASTM grain size number. */
export type Ingredient = Element | "G";

/** A content as reported. "<0.005" is the value 0.005 with bound "<". */
export interface Content {
  readonly value: Decimal;
  readonly bound?: "<" | "<=" | ">" | ">=";
}

/** One analysis of one heat. What is not in the map was not reported, which is not zero. */
export type Chemistry = ReadonlyMap<Ingredient, Content>;

/** Where a quantity surely lies. An end that is absent is not known. */
export interface Interval {
  readonly low?: Decimal;
  readonly high?: Decimal;
}

const ZERO = decimal("0");

/** The interval that a report proves: the value itself, from zero up to a "<" bound, or from zero where it is silent. */
export function intervalOf(content: Content | undefined): Interval {
  if (!content) return { low: ZERO };
  const { value, bound } = content;
  if (bound === undefined) return { low: value, high: value };
  return bound.startsWith("<") ? { low: ZERO, high: value } : { low: value };
}
