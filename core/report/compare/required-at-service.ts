import { type Decimal, parseDecimal } from "../../quantity/decimal.js";
import { measureIn } from "../../quantity/measure.js";
import { type Quantity, reportUnit } from "../../quantity/quantity.js";
import { convert } from "../../quantity/unit.js";
import { parseMeasure } from "../../requirement/parse-measure.js";
import type { Requirement } from "../../requirement/requirement.js";
import type { MaterialZone } from "./comparison.js";

export interface RequiredAtService {
  /** Of a value, or of the mean of a set. */
  readonly mean?: Decimal;
  /** Of each piece of a set. */
  readonly single?: Decimal;
}

/**
 * The project's own minimums for a quantity in a zone. They decide nothing for delivery here: heats are judged by the check command,
 * set by set and by each rule.
 */
export function requiredAtService(requirement: Requirement, quantity: Quantity, zone: MaterialZone): RequiredAtService {
  if (quantity === "KV" || quantity === "LE") return fromImpact(requirement, quantity, zone);
  const limit = requirement.limits?.find(
    (candidate) => candidate.quantity === quantity && candidate.min !== undefined && (candidate.zone ?? zone) === zone,
  );
  const mean = limit && convert(parseDecimal(limit.min!)!, limit.unit, reportUnit(quantity));
  return mean ? { mean } : {};
}

/** Lateral expansion is asked of every piece, energy of the mean and, by another number, of each piece. */
function fromImpact(requirement: Requirement, quantity: "KV" | "LE", zone: MaterialZone): RequiredAtService {
  const impact = requirement.impact?.find((candidate) => candidate.zone === zone);
  if (quantity === "LE") {
    const single = inUnit(impact?.lateralExpansion, "length", "mm");
    return single ? { single } : {};
  }
  const [mean, single] = [inUnit(impact?.average, "energy", "J"), inUnit(impact?.single, "energy", "J")];
  return { ...(mean && { mean }), ...(single && { single }) };
}

function inUnit(text: string | undefined, dimension: string, unit: "J" | "mm"): Decimal | undefined {
  const measure = text === undefined ? undefined : parseMeasure(text, dimension);
  return measure && measureIn(measure, unit);
}
