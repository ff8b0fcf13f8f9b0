import type { Analysis, NumberedReading, Zone } from "../certificate/certificate.js";
import type { Chemistry, Content, Ingredient } from "../metallurgy/chemistry.js";
import { compare, decimal } from "../quantity/decimal.js";
import type { Interval } from "../quantity/interval.js";
import { isElement } from "../quantity/quantity.js";
import { contentOf } from "./element-content.js";
import type { HeatEvidence } from "./heat-evidence.js";

export interface HeatChemistry {
  readonly contents: Chemistry;
  readonly readings: readonly NumberedReading[];
}

/**
 * One analysis of one zone in mass %: what formulas compute from. Several readings of an element count as `contentOf` says: the
 * finest of prints that agree, else everything between the lowest and the highest, of which the worst for a limit decides.
 */
export function chemistryOf(
  readings: HeatEvidence["readings"],
  zone?: Zone,
  analysis: Analysis = "heat",
): HeatChemistry {
  const ingredients = new Set(readings.map(({ quantity }) => quantity).filter(isIngredient));
  const found = [...ingredients].flatMap((ingredient) => {
    // The grain size is seen in the microscope and belongs to no analysis.
    const wanted = ingredient === "G" ? ({ analysis: "heat", unit: "1" } as const) : ({ analysis, unit: "%" } as const);
    const content = contentOf(ingredient, readings, { ...wanted, zone });
    return content ? [{ ingredient, content }] : [];
  });
  return {
    contents: new Map(found.map(({ ingredient, content }) => [ingredient, asContent(content.value)])),
    readings: found.flatMap(({ content }) => content.readings),
  };
}

function isIngredient(quantity: string): quantity is Ingredient {
  return isElement(quantity) || quantity === "G";
}

function asContent({ low, high }: Interval): Content {
  if (!high) return { value: low ?? decimal("0"), bound: ">" };
  if (!low) return { value: high, bound: "<" };
  return compare(low, high) === 0 ? { value: high } : { value: high, low };
}
