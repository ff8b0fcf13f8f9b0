import type { Zone } from "../certificate/certificate.js";
import type { Chemistry, Content, Ingredient } from "../metallurgy/chemistry.js";
import { isElement } from "../quantity/quantity.js";
import { convert } from "../quantity/unit.js";
import { zoneMatches } from "./conditions.js";
import { analysisOf } from "./heat-evidence.js";
import type { NumberedReading } from "./judgement.js";

export interface HeatChemistry {
  readonly contents: Chemistry;
  readonly readings: readonly NumberedReading[];
}

/** The heat analysis of one zone in mass %, the first reading of each element: what formulas compute from. */
export function chemistryOf(readings: readonly NumberedReading[], zone?: Zone): HeatChemistry {
  const contents = new Map<Ingredient, Content>();
  const used: NumberedReading[] = [];
  for (const reading of readings) {
    const { quantity } = reading;
    const isIngredient = isElement(quantity) || quantity === "G";
    if (!isIngredient || contents.has(quantity) || analysisOf(reading) !== "heat" || !zoneMatches(zone, reading.zone))
      continue;
    const value = quantity === "G" ? reading.value : convert(reading.value, reading.unit, "%");
    if (!value) continue;
    contents.set(quantity, { value, ...(reading.bound && { bound: reading.bound }) });
    used.push(reading);
  }
  return { contents, readings: used };
}
