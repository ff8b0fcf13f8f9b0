import { type Decimal, extend, multiply } from "./decimal.js";

/** Rounds to the nearest; a value exactly halfway goes to the even neighbour (ASTM E29; ISO 80000-1 B.3 rule A). */
export function roundHalfEven(value: Decimal, places: number): Decimal {
  return roundWith(value, places, (below) => below % 2n !== 0n);
}

/** Rounds to the nearest; a value exactly halfway goes away from zero (ISO 80000-1 B.3 rule B). */
export function roundHalfAway(value: Decimal, places: number): Decimal {
  return roundWith(value, places, () => value.digits >= 0n);
}

/**
 * Rounds half to even to a whole multiple of `step` (ASTM E29: divide, round, multiply back). 6025 to the nearest 50 is 6000.
 * `step` must be above zero.
 */
export function roundToMultiple(value: Decimal, step: Decimal): Decimal {
  if (step.digits <= 0n) throw new Error("a rounding step must be above zero");
  const quotient = divideHalfEven(value, step, 0);
  return multiply(quotient, step);
}

/** `left / right` with the given number of places, the last digit rounded half to even from the exact quotient. */
export function divideHalfEven(left: Decimal, right: Decimal, places: number): Decimal {
  if (right.digits === 0n) throw new Error("division by zero");
  const exponent = places + right.places - left.places;
  let numerator = exponent >= 0 ? left.digits * 10n ** BigInt(exponent) : left.digits;
  let denominator = exponent >= 0 ? right.digits : right.digits * 10n ** BigInt(-exponent);
  if (denominator < 0n) {
    numerator = -numerator;
    denominator = -denominator;
  }
  return { digits: nearest(numerator, denominator, (below) => below % 2n !== 0n), places };
}

function roundWith(value: Decimal, places: number, halfGoesUp: (below: bigint) => boolean): Decimal {
  if (value.places <= places) return extend(value, places);
  const step = 10n ** BigInt(value.places - places);
  return { digits: nearest(value.digits, step, halfGoesUp), places };
}

function nearest(numerator: bigint, denominator: bigint, halfGoesUp: (below: bigint) => boolean): bigint {
  const below = floorDivide(numerator, denominator);
  const twice = (numerator - below * denominator) * 2n;
  if (twice === denominator) return halfGoesUp(below) ? below + 1n : below;
  return twice > denominator ? below + 1n : below;
}

function floorDivide(numerator: bigint, denominator: bigint): bigint {
  const quotient = numerator / denominator;
  return numerator % denominator !== 0n && numerator < 0n ? quotient - 1n : quotient;
}
