import { formulaFault } from "../metallurgy/formula-fault.js";
import { compare, parseDecimal } from "../quantity/decimal.js";
import { isFromAnalysis, kindOf, type Quantity, reportUnit } from "../quantity/quantity.js";
import { dimensionOf, type Unit } from "../quantity/unit.js";

interface Sides {
  readonly min?: string | undefined;
  readonly max?: string | undefined;
}

/** What of a limit these rules look at. Each field fits the schema by itself; here they are held against each other. */
interface LimitFields extends Sides {
  readonly quantity: Quantity;
  readonly sumOf?: readonly string[] | undefined;
  readonly formula?: string | undefined;
  readonly analysis?: string | undefined;
  readonly unit: Unit;
  readonly minFrom?: unknown;
  readonly maxFrom?: unknown;
  readonly inchPound?: (Sides & { readonly unit: Unit }) | undefined;
  readonly reportOnly?: true | undefined;
  readonly tradeOff?: TradeOff | undefined;
  readonly impact?: { readonly single?: string | undefined } | undefined;
}

interface TradeOff {
  readonly step: string;
  readonly raises: string;
  readonly ceiling: string;
}

/** A limit whose fields contradict each other would be judged as something that nobody wrote. */
export function limitFaults(
  limit: LimitFields,
): readonly { readonly field: keyof LimitFields; readonly message: string }[] {
  const faults: { field: keyof LimitFields; message: string }[] = [];
  const must = (holds: boolean, field: keyof LimitFields, message: string) => {
    if (!holds) faults.push({ field, message });
  };
  const sides = [limit.min, limit.max, limit.minFrom, limit.maxFrom];
  const isBounded = sides.some((bound) => bound !== undefined);
  must(isBounded || limit.reportOnly === true, "quantity", BOUNDLESS);
  must(!isBounded || limit.reportOnly === undefined, "reportOnly", "bounds nothing, and there is a bound beside it");
  must(limit.minFrom === undefined || limit.min === undefined, "minFrom", "is a second minimum beside min: give one");
  must(limit.maxFrom === undefined || limit.max === undefined, "maxFrom", "is a second maximum beside max: give one");
  must(!isCrossed(limit), "min", "is above max");
  if (limit.formula === undefined)
    must(fitsUnit(limit.quantity, limit.unit), "unit", `is no unit of ${limit.quantity}`);
  const computed = formulaFault(limit);
  if (computed) must(false, computed.field, computed.message);
  const isAnalysed = isFromAnalysis(limit.quantity);
  must(
    limit.analysis === undefined || isAnalysed,
    "analysis",
    `is given, and ${limit.quantity} is not from an analysis`,
  );
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
  const isElement = kindOf(limit.quantity) === "chemistry" && limit.formula === undefined;
  for (const field of ["sumOf", "minFrom", "maxFrom", "tradeOff"] as const) {
    must(
      isElement || limit[field] === undefined,
      field,
      `is for contents of elements, not for ${limit.formula ?? limit.quantity}`,
    );
  }
  must(limit.sumOf === undefined || limit.sumOf[0] === limit.quantity, "sumOf", "must begin with the quantity");
  const isImpact = kindOf(limit.quantity) === "impact";
  must(isImpact === (limit.impact !== undefined), "impact", "belongs to impact quantities, and they need it");
  must(
    !isImpact || JUDGED_IMPACTS.includes(limit.quantity),
    "quantity",
    `is not judged in sets: ${JUDGED_IMPACTS.join(", ")} are`,
  );
  must(!isImpact || (limit.min !== undefined && limit.max === undefined), "impact", "needs a min and takes no max");
  must(
    !isCrossed({ min: limit.impact?.single, max: limit.min }),
    "impact",
    "has a single minimum above that of the average",
  );
  const { tradeOff, max } = limit;
  if (tradeOff !== undefined) {
    must(max !== undefined, "tradeOff", "raises a max, and there is none");
    must(isPositive(tradeOff.step) && isPositive(tradeOff.raises), "tradeOff", "needs a step and a rise above zero");
    must(!isCrossed({ min: max, max: tradeOff.ceiling }), "tradeOff", "has its ceiling below the max that it raises");
  }
  return faults;
}

const BOUNDLESS = "bounds nothing: give min, max, minFrom, maxFrom or reportOnly";

/** Impact quantities that the judge knows how to hold; a KU notch is another test, and no KV answers for it. */
const JUDGED_IMPACTS: readonly Quantity[] = ["KV", "KCV", "LE"];

function isPositive(text: string): boolean {
  const number = parseDecimal(text);
  return number === undefined || number.digits > 0n;
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
