import { compare, type Decimal } from "./decimal.js";

/** What is known of a value: from `low` to `high`, both included; an end left out is open. A plain value has equal ends. */
export interface Interval {
  readonly low?: Decimal;
  readonly high?: Decimal;
}

export type BoundSign = "<" | "<=" | ">" | ">=";

/** "<0.005" says only that the value is not above 0.005; ">" the other way round. No sign: the value itself. */
export function intervalOf(value: Decimal, bound?: BoundSign): Interval {
  if (bound === undefined) return { low: value, high: value };
  return bound.startsWith("<") ? { high: value } : { low: value };
}

export function isExact(interval: Interval): interval is { readonly low: Decimal; readonly high: Decimal } {
  return interval.low !== undefined && interval.high !== undefined && compare(interval.low, interval.high) === 0;
}
