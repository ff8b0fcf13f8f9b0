import { compare, type Decimal, multiply } from "./decimal.js";
import { divideHalfEven } from "./round.js";

/** An exact share such as 2/3 or 5/6, which has no finite decimal form. */
export interface Fraction {
  readonly numerator: bigint;
  readonly denominator: bigint;
}

/** Reads "2/3", "7/10" or "1". Throws on anything else: for literals in code and data. */
export function fraction(text: string): Fraction {
  const match = /^(-?\d+)(?:\/(\d+))?$/.exec(text);
  const denominator = BigInt(match?.[2] ?? "1");
  if (!match || denominator === 0n) throw new Error(`not a fraction: ${JSON.stringify(text)}`);
  return { numerator: BigInt(match[1]!), denominator };
}

/** Whether `value` reaches `share` of `whole`, decided without rounding: 18.9 reaches 7/10 of 27. */
export function compareWithShare(value: Decimal, share: Fraction, whole: Decimal): -1 | 0 | 1 {
  return compare(multiply(value, integer(share.denominator)), multiply(whole, integer(share.numerator)));
}

/** Places kept by a share that does not come out even, beyond those of the whole: finer than any printed result. */
const SHARE_PLACES = 12;

/**
 * `share` of `whole` with no more places than it needs: 5/6 of 27 is 22.5. Where it does not come out even it is rounded
 * at a place far below anything printed; use `compareWithShare` where even that matters.
 */
export function shareOf(share: Fraction, whole: Decimal): Decimal {
  const scaled = multiply(whole, integer(share.numerator));
  return trimPlaces(divideHalfEven(scaled, integer(share.denominator), whole.places + SHARE_PLACES), whole.places);
}

/** The same number without trailing zeros after the point, but with at least `places` places. */
export function trimPlaces(value: Decimal, places: number): Decimal {
  let trimmed = value;
  while (trimmed.places > places && trimmed.digits % 10n === 0n) {
    trimmed = { digits: trimmed.digits / 10n, places: trimmed.places - 1 };
  }
  return trimmed;
}

export function integer(value: bigint | number): Decimal {
  return { digits: BigInt(value), places: 0 };
}
