import type { Zone } from "../certificate/certificate.js";
import type { Chemistry, Content, Ingredient } from "../metallurgy/chemistry.js";
import { compare } from "../quantity/decimal.js";
import { isElement } from "../quantity/quantity.js";
import { convert } from "../quantity/unit.js";
import { zoneMatches } from "./conditions.js";
import { analysisOf } from "./heat-evidence.js";
import type { NumberedReading } from "./judgement.js";

export interface HeatChemistry {
  readonly contents: Chemistry;
  readonly readings: readonly NumberedReading[];
}

/**
 * The heat analysis of one zone in mass %: what formulas compute from. Of several readings of an element the finest print counts,
 * of equally fine ones the highest (they contradict each other and are reported as such), so that the order of rows is no matter.
 */
export function chemistryOf(readings: readonly NumberedReading[], zone?: Zone): HeatChemistry {
  const chosen = new Map<Ingredient, { readonly content: Content; readonly reading: NumberedReading }>();
  for (const reading of readings) {
    const { quantity } = reading;
    const isIngredient = isElement(quantity) || quantity === "G";
    if (!isIngredient || analysisOf(reading) !== "heat" || !zoneMatches(zone, reading.zone)) continue;
    const value = quantity === "G" ? reading.value : convert(reading.value, reading.unit, "%");
    if (!value) continue;
    const content = { value, ...(reading.bound && { bound: reading.bound }) };
    const other = chosen.get(quantity);
    if (!other || goesBefore(content, other.content)) chosen.set(quantity, { content, reading });
  }
  return {
    contents: new Map([...chosen].map(([ingredient, { content }]) => [ingredient, content])),
    readings: [...chosen.values()].map(({ reading }) => reading),
  };
}

function goesBefore(left: Content, right: Content): boolean {
  if ((left.bound === undefined) !== (right.bound === undefined)) return left.bound === undefined;
  if (left.value.places !== right.value.places) return left.value.places > right.value.places;
  return compare(left.value, right.value) > 0;
}
