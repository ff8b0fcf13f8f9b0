import { type Decimal, decimal, formatDecimal, parseDecimal } from "../../quantity/decimal.js";
import { type Quantity, reportUnit } from "../../quantity/quantity.js";
import { roundToMultiple } from "../../quantity/round.js";
import { reportedByTestStandard } from "../../quantity/test-standard-rounding.js";

/** Digits kept of a reduced value: far finer than any test can tell, coarse enough to be read. */
const KEPT_PLACES = 4;

/** A binary number as the decimal that the record keeps: the unrounded result. */
export function keptDecimal(value: number): Decimal {
  const kept = parseDecimal(value.toFixed(KEPT_PLACES));
  if (!kept) throw new Error(`a reduced value must be a finite number of ordinary size: ${value}`);
  return kept;
}

/** Areas under a curve are in no standard: they are given to what they are good for. */
const OWN_STEPS: Partial<Record<Quantity, Decimal>> = { toughness: decimal("0.1"), resilience: decimal("0.001") };

/** A result as ISO 6892-1 has it reported, with the rules' steps from where the judge takes them, too. */
export function roundResult(quantity: Quantity, value: Decimal): Decimal {
  const own = OWN_STEPS[quantity];
  if (own) return roundToMultiple(value, own);
  const reported = reportedByTestStandard(quantity, { value, unit: reportUnit(quantity) }, "ISO 6892-1");
  if (!reported) throw new Error(`no tensile record gives ${quantity}`);
  return reported.value;
}

export function printResult(
  quantity: Quantity,
  value: number,
): { readonly unrounded: Decimal; readonly rounded: string } {
  const unrounded = keptDecimal(value);
  return { unrounded, rounded: formatDecimal(roundResult(quantity, unrounded)) };
}
