import { type Decimal, decimal, formatDecimal, parseDecimal } from "../../quantity/decimal.js";
import { kindOf, type Quantity } from "../../quantity/quantity.js";
import { roundHalfEven, roundToMultiple } from "../../quantity/round.js";

/** Digits kept of a reduced value: far finer than any test can tell, coarse enough to be read. */
const KEPT_PLACES = 4;

/** A binary number as the decimal that the record keeps: the unrounded result. */
export function keptDecimal(value: number): Decimal {
  const kept = parseDecimal(value.toFixed(KEPT_PLACES));
  if (!kept) throw new Error(`a reduced value must be a finite number of ordinary size: ${value}`);
  return kept;
}

const STEPS: Partial<Record<Quantity, Decimal>> = {
  Z: decimal("1"),
  E: decimal("0.1"),
  toughness: decimal("0.1"),
  resilience: decimal("0.001"),
};

/**
 * A result as ISO 6892-1:2019, clause 22, reports it: strengths to 1 MPa, elongations to 0.5 %, Z to 1 %, modulus to 0.1 GPa.
 * The energies are not in the standard; they are given to what the area under a curve is good for. Ties go to the even neighbour:
 * the clause refers to ISO 80000-1, which leaves the choice, and prefers that one.
 */
export function roundResult(quantity: Quantity, value: Decimal): Decimal {
  const step = STEPS[quantity];
  if (step) return roundToMultiple(value, step);
  return kindOf(quantity) === "strength" ? roundHalfEven(value, 0) : roundToMultiple(value, decimal("0.5"));
}

export function printResult(
  quantity: Quantity,
  value: number,
): { readonly unrounded: Decimal; readonly rounded: string } {
  const unrounded = keptDecimal(value);
  return { unrounded, rounded: formatDecimal(roundResult(quantity, unrounded)) };
}
