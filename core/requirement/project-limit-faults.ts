import { fitsUnit, isCrossed } from "../grades/limit-faults.js";
import { formulaFault } from "../metallurgy/formula-fault.js";
import { isFromAnalysis, kindOf, type Quantity } from "../quantity/quantity.js";
import type { Unit } from "../quantity/unit.js";

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
  const { quantity, unit } = limit;
  const faults: (ProjectLimitFault | undefined)[] = [
    isCrossed(limit) ? { field: "min", message: "is above max" } : undefined,
    kindOf(quantity) === "impact"
      ? { field: "quantity", message: "belongs under impact, with its temperature and zone" }
      : limit.formula === undefined && !fitsUnit(quantity, unit)
        ? { field: "unit", message: `is no unit of ${quantity}` }
        : formulaFault(limit),
    limit.analysis !== undefined && limit.formula === undefined && !isFromAnalysis(quantity)
      ? { field: "analysis", message: `${quantity} is not from an analysis` }
      : undefined,
  ];
  return faults.filter((fault) => fault !== undefined);
}
