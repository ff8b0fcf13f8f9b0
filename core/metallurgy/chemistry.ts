import { type Decimal, decimal } from "../quantity/decimal.js";
import { type BoundSign, type Interval, intervalOf } from "../quantity/interval.js";
import type { Element } from "../quantity/quantity.js";

/** What a formula may ask for: contents in mass %, and `G`, the ASTM grain size number. */
export type Ingredient = Element | "G";

/** A content as reported. "<0.005" is the value 0.005 with bound "<". */
export interface Content {
  readonly value: Decimal;
  readonly bound?: BoundSign;
  /** The lowest of several determinations, of which `value` is the highest. */
  readonly low?: Decimal;
}

/** One analysis of one heat. What is not in the map was not reported, which is not zero. */
export type Chemistry = ReadonlyMap<Ingredient, Content>;

const ZERO = decimal("0");

/**
 * What a report proves of a content. A mass fraction is never below zero, which closes the low end of "<" and of silence; a grain
 * size number may be (ASTM E112: 0 and 00 are the coarsest).
 */
export function contentInterval(chemistry: Chemistry, of: Ingredient): Interval {
  const content = chemistry.get(of);
  const least: Interval = of === "G" ? {} : { low: ZERO };
  if (!content) return least;
  if (content.low) return { low: content.low, high: content.value };
  return { ...least, ...intervalOf(content.value, content.bound) };
}
