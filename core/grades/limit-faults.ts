import { compare, parseDecimal } from "../quantity/decimal.js";
import { kindOf, type Quantity, reportUnit } from "../quantity/quantity.js";
import { dimensionOf, type Unit } from "../quantity/unit.js";

interface Sides {
  readonly min?: string | undefined;
  readonly max?: string | undefined;
}

/** What of a limit these rules look at. Each field fits the schema by itself; here they are held against each other. */
interface LimitFields extends Sides {
  readonly quantity: Quantity;
  readonly sumOf?: readonly string[] | undefined;
  readonly unit: Unit;
  readonly minFrom?: unknown;
  readonly maxFrom?: unknown;
  readonly inchPound?: (Sides & { readonly unit: Unit }) | undefined;
  readonly reportOnly?: true | undefined;
  readonly tradeOff?: unknown;
  readonly impact?: { readonly single?: string | undefined } | undefined;
}

/** A limit whose fields contradict each other would be judged as something that nobody wrote. */
export function limitFaults(
  limit: LimitFields,
): readonly { readonly field: keyof LimitFields; readonly message: string }[] {
  const faults: { field: keyof LimitFields; message: string }[] = [];
  const must = (holds: boolean, field: keyof LimitFields, message: string) => {
    if (!holds) faults.push({ field, message });
  };
  const isBounded = [limit.min, limit.max, limit.minFrom, limit.maxFrom, limit.reportOnly].some(
    (bound) => bound !== undefined,
  );
  must(isBounded, "quantity", "bounds nothing: give min, max, minFrom, maxFrom or reportOnly");
  must(fitsUnit(limit.quantity, limit.unit), "unit", `is no unit of ${limit.quantity}`);
  must(!isCrossed(limit), "min", "is above max");
  const { inchPound } = limit;
  if (inchPound !== undefined) {
    must(fitsUnit(limit.quantity, inchPound.unit), "inchPound", `is in no unit of ${limit.quantity}`);
    must(!isCrossed(inchPound), "inchPound", "has its min above its max");
    must(
      (limit.min === undefined) === (inchPound.min === undefined) &&
        (limit.max === undefined) === (inchPound.max === undefined),
      "inchPound",
      "bounds other sides than the limit itself",
    );
  }
  must(limit.sumOf === undefined || limit.sumOf[0] === limit.quantity, "sumOf", "must begin with the quantity");
  const isImpact = kindOf(limit.quantity) === "impact";
  must(isImpact === (limit.impact !== undefined), "impact", "belongs to impact quantities, and they need it");
  must(!isImpact || (limit.min !== undefined && limit.max === undefined), "impact", "needs a min and takes no max");
  must(
    !isCrossed({ min: limit.impact?.single, max: limit.min }),
    "impact",
    "has a single minimum above that of the average",
  );
  must(limit.tradeOff === undefined || limit.max !== undefined, "tradeOff", "raises a max, and there is none");
  return faults;
}

/** Whether the quantity can be stated in this unit. */
export function fitsUnit(quantity: Quantity, unit: Unit): boolean {
  return dimensionOf(unit) === dimensionOf(reportUnit(quantity));
}

/** A lower bound above the upper one. What is no number is a fault of its own. */
export function isCrossed({ min, max }: Sides): boolean {
  const [low, high] = [min, max].map((text) => text && parseDecimal(text));
  return Boolean(low && high && compare(low, high) > 0);
}
