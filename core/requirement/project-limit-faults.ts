import { fitsUnit, isCrossed } from "../grades/limit-faults.js";
import { formula, usualFormula } from "../metallurgy/formulas.js";
import { isMeasuredIndex, kindOf, type Quantity } from "../quantity/quantity.js";
import { dimensionOf, type Unit } from "../quantity/unit.js";

interface LimitFields {
  readonly quantity: Quantity;
  readonly min?: string | undefined;
  readonly max?: string | undefined;
  readonly unit: Unit;
  readonly analysis?: string | undefined;
  readonly formula?: string | undefined;
}

export interface ProjectLimitFault {
  readonly field: keyof LimitFields;
  readonly message: string;
}

/** What would make a project's limit mean something that nobody wrote: each field fits by itself, together they do not. */
export function projectLimitFaults(limit: LimitFields): readonly ProjectLimitFault[] {
  const { quantity } = limit;
  const kind = kindOf(quantity);
  const faults: (ProjectLimitFault | undefined)[] = [
    isCrossed(limit) ? { field: "min", message: "is above max" } : undefined,
    kind === "impact"
      ? { field: "quantity", message: "belongs under impact, with its temperature and zone" }
      : limit.formula === undefined
        ? withoutFormula(limit)
        : byFormula(limit, limit.formula),
    limit.analysis !== undefined && kind !== "chemistry" && kind !== "index" && limit.formula === undefined
      ? { field: "analysis", message: `${quantity} is not from an analysis` }
      : undefined,
  ];
  return faults.filter((fault) => fault !== undefined);
}

function withoutFormula({ quantity, unit }: LimitFields): ProjectLimitFault | undefined {
  if (!fitsUnit(quantity, unit)) return { field: "unit", message: `is no unit of ${quantity}` };
  const isComputed = kindOf(quantity) === "index" && !isMeasuredIndex(quantity);
  if (!isComputed || usualFormula(quantity)) return undefined;
  return { field: "formula", message: `is needed: formulas for ${quantity} contradict each other` };
}

function byFormula({ quantity, unit }: LimitFields, name: string): ProjectLimitFault | undefined {
  const known = formula(name);
  if (!known) return { field: "formula", message: "is not a known formula" };
  // Ratios such as Mn/S are no quantity of their own: such a limit names one of their elements.
  const isOfIt = known.quantity === quantity || [...known.needs, ...known.optional].some((of) => of === quantity);
  if (!isOfIt) return { field: "formula", message: `does not compute ${quantity}` };
  return dimensionOf(unit) === dimensionOf(known.unit)
    ? undefined
    : { field: "unit", message: `is no unit of ${name}` };
}
