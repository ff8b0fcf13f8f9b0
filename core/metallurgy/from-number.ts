import { type Decimal, decimal } from "../quantity/decimal.js";

/**
 * A result of a formula with logarithms or powers as a decimal, cut to places that the formula can vouch for.
 * What decides a limit is the interval around it, never its last place.
 */
export function fromNumber(value: number, places: number): Decimal {
  if (!Number.isFinite(value)) throw new Error(`a formula gave ${value}`);
  return decimal(value.toFixed(places));
}
