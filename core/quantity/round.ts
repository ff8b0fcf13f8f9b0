import { type Decimal, extend, multiply, tenTo } from "./decimal.js";

/** Rounds to the nearest; a value exactly halfway goes to the even neighbour (ASTM E29; ISO 80000-1 B.3 rule A). */
export function roundHalfEven(value: Decimal, places: number): Decimal {
  return places >= value.places ? extend(value, places) : divideHalfEven(value, ONE, places);
}

/** Rounds to the nearest; a value exactly halfway goes away from zero (ISO 80000-1 B.3 rule B). */
export function roundHalfAway(value: Decimal, places: number): Decimal {
  return places >= value.places ? extend(value, places) : divideHalfAway(value, ONE, places);
}

/**
 * Rounds half to even to a whole multiple of `step` (ASTM E29: divide, round, multiply back). 6025 to the nearest 50 is 6000.
 * `step` must be above zero.
 */
export function roundToMultiple(value: Decimal, step: Decimal): Decimal {
  if (step.digits <= 0n) throw new Error("a rounding step must be above zero");
  return multiply(divideHalfEven(value, step, 0), step);
}

/** `left / right` with the given number of places, the last digit rounded half to even from the exact quotient. */
export function divideHalfEven(left: Decimal, right: Decimal, places: number): Decimal {
  return divide(left, right, places, (below) => below % 2n !== 0n);
}

/** `left / right` with the given number of places, the last digit rounded half away from zero from the exact quotient. */
export function divideHalfAway(left: Decimal, right: Decimal, places: number): Decimal {
  return divide(left, right, places, (below) => below >= 0n);
}

const ONE: Decimal = { digits: 1n, places: 0 };

function divide(left: Decimal, right: Decimal, places: number, halfGoesUp: (below: bigint) => boolean): Decimal {
  if (right.digits === 0n) throw new Error("division by zero");
  const exponent = places + right.places - left.places;
  const numerator = left.digits * tenTo(Math.max(exponent, 0));
  const denominator = right.digits * tenTo(Math.max(-exponent, 0));
  const digits =
    denominator > 0n ? nearest(numerator, denominator, halfGoesUp) : nearest(-numerator, -denominator, halfGoesUp);
  return { digits, places };
}

/** The whole number nearest to the quotient; `below` is the one at or under it. `denominator` is above zero. */
function nearest(numerator: bigint, denominator: bigint, halfGoesUp: (below: bigint) => boolean): bigint {
  const remainder = ((numerator % denominator) + denominator) % denominator;
  const below = (numerator - remainder) / denominator;
  const twice = remainder * 2n;
  return twice > denominator || (twice === denominator && halfGoesUp(below)) ? below + 1n : below;
}
