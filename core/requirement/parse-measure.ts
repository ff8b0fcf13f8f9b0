import { parseDecimal } from "../quantity/decimal.js";
import type { Measure } from "../quantity/measure.js";
import { dimensionOf, isUnit } from "../quantity/unit.js";

/** Reads "-196 °C" or "12 mm": a plain decimal with a point, then a unit of the wanted dimension. */
export function parseMeasure(text: string, dimension: string): Measure | undefined {
  const match = /^\s*([+-−]?[\d.]+)\s*(\S+)\s*$/.exec(text);
  if (!match) return undefined;
  const value = parseDecimal(match[1]!.replace("−", "-"));
  const unit = match[2]!;
  if (!value || !isUnit(unit) || dimensionOf(unit) !== dimension) return undefined;
  return { value, unit };
}
