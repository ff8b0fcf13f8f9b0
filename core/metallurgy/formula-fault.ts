import { isMeasuredIndex, kindOf, type Quantity } from "../quantity/quantity.js";
import { dimensionOf, type Unit } from "../quantity/unit.js";
import { formula, usualFormula } from "./formulas.js";

interface Computed {
  readonly quantity: Quantity;
  readonly unit: Unit;
  readonly formula?: string | undefined;
}

/** What keeps a limit from being held by the formula that it names, or from being held without one; undefined for a sound limit. */
export function formulaFault({
  quantity,
  unit,
  formula: name,
}: Computed): { readonly field: "formula" | "unit"; readonly message: string } | undefined {
  if (name === undefined) {
    const isComputed = kindOf(quantity) === "index" && !isMeasuredIndex(quantity);
    if (!isComputed || usualFormula(quantity)) return undefined;
    return { field: "formula", message: `is needed: formulas for ${quantity} contradict each other` };
  }
  const known = formula(name);
  if (!known) return { field: "formula", message: "is not a known formula" };
  // Ratios such as Mn/S are no quantity of their own: such a limit names one of their elements.
  const isOfIt =
    known.quantity === undefined
      ? [...known.needs, ...known.optional].some((of) => of === quantity)
      : known.quantity === quantity;
  if (!isOfIt) return { field: "formula", message: `does not compute ${quantity}` };
  if (dimensionOf(unit) === dimensionOf(known.unit)) return undefined;
  return { field: "unit", message: `is no unit of ${name}` };
}
