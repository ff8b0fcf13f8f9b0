import type { Decimal } from "./decimal.js";
import { divideHalfAway, divideHalfEven, roundHalfAway, roundHalfEven } from "./round.js";

/**
 * How a value is held against a printed bound.
 * "rounding method": rounded to the bound's last printed place first, half to even (ASTM E29 rounding method; ISO 80000-1 B.3 rule A).
 * "rounding rule B": the same, but half away from zero (ISO 80000-1 B.3 rule B).
 * "absolute": compared as it stands; the smallest excess is outside (ASTM E29 absolute method).
 */
export const ROUNDINGS = ["rounding method", "rounding rule B", "absolute"] as const;

export type Rounding = (typeof ROUNDINGS)[number];

/** The value as it is compared with a bound that is printed with so many places. */
export function roundedBy(rounding: Rounding, value: Decimal, places: number): Decimal {
  if (rounding === "absolute") return value;
  return rounding === "rounding rule B" ? roundHalfAway(value, places) : roundHalfEven(value, places);
}

/** `left / right`, rounded once from the exact quotient. The absolute method has no quotient with places: compare products there. */
export function quotientBy(
  rounding: Exclude<Rounding, "absolute">,
  left: Decimal,
  right: Decimal,
  places: number,
): Decimal {
  return rounding === "rounding rule B" ? divideHalfAway(left, right, places) : divideHalfEven(left, right, places);
}

/** The method that a finding is held to beside its own, to say where the two part. */
export function otherMethod(rounding: Rounding): Rounding {
  return rounding === "absolute" ? "rounding method" : "absolute";
}
