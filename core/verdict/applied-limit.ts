import type { Limit, ToleranceTable } from "../grades/grade.js";
import { type Decimal, decimal } from "../quantity/decimal.js";
import type { Rounding } from "../quantity/rounding.js";
import type { Unit } from "../quantity/unit.js";
import type { Bounds } from "./hold.js";
import type { BoundLimit, LimitSource } from "./judgement.js";
import { keptWith } from "./remembered.js";

/** A limit together with who asks for it: a grade of the library, or the project's requirement. */
export interface AppliedLimit {
  readonly limit: Limit;
  /** Full name, as findings and samples cite it: "astm-a240/2007e1/s30403#C", "requirement#limits/0". */
  readonly id: string;
  /** Grade name for the sentence; absent: the project. */
  readonly holder?: string;
  readonly source: LimitSource;
  readonly rounding: Rounding;
  /** Product-analysis tolerances of the standard; absent: none known. */
  readonly tolerances?: ToleranceTable;
  /** The same grade prints product-analysis limits of its own for this quantity, so the tolerance table is not used. */
  readonly hasOwnProductLimit: boolean;
}

/** What the report calls the limited quantity: "C", "Cu+Ni+Cr+Mo", "CE (IIW)". */
export function labelOf(limit: Limit): string {
  if (limit.sumOf !== undefined) return limit.sumOf.join("+");
  return limit.formula ?? limit.quantity;
}

/** Limits are read from their text once, not at every heat. */
const PRINTED = { si: new WeakMap<AppliedLimit, BoundLimit>(), "inch-pound": new WeakMap<AppliedLimit, BoundLimit>() };

/** The limit with its own bounds in one of its unit systems; bounds computed from other elements are not among them. */
export function printedLimit(applied: AppliedLimit, system: "si" | "inch-pound"): BoundLimit {
  return keptWith(PRINTED[system], applied, () => {
    const { limit } = applied;
    const side = system === "inch-pound" && limit.inchPound !== undefined ? limit.inchPound : limit;
    const bounds = {
      ...(side.min !== undefined && { min: decimal(side.min) }),
      ...(side.max !== undefined && { max: decimal(side.max) }),
    };
    return boundLimit(applied, bounds, side.unit);
  });
}

/** The limit with bounds that are not its printed ones: computed, or widened by an allowance. */
export function boundLimit(applied: AppliedLimit, bounds: Bounds, unit: Unit): BoundLimit {
  return {
    id: applied.id,
    quantity: labelOf(applied.limit),
    ...bounds,
    unit,
    source: applied.source,
    ...(applied.holder !== undefined && { holder: applied.holder }),
  };
}

export function isEmpty(bounds: { readonly min?: Decimal; readonly max?: Decimal }): boolean {
  return bounds.min === undefined && bounds.max === undefined;
}
