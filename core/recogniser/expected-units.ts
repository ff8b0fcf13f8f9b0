import { kindOf, type Quantity, reportUnit } from "../quantity/quantity.js";
import { type Dimension, dimensionOf, type Unit } from "../quantity/unit.js";

/** What a quantity can be measured in; a unit of another dimension under its title is a doubt. */
export function dimensionsFor(quantity: Quantity): readonly Dimension[] {
  if (quantity === "KCV") return ["energy-per-area"];
  // "Impact [J/cm²]" is energy per area whatever the word beside it says.
  if (quantity === "KV" || quantity === "KU") return ["energy", "energy-per-area"];
  return [dimensionOf(reportUnit(quantity))];
}

const IN_PER_CENT: ReadonlySet<Quantity> = new Set(["Z", "SFA", "Ag", "Agt"]);

/** Units that the trade leaves out because only one is in use. */
export function customaryUnit(quantity: Quantity): Unit | undefined {
  const kind = kindOf(quantity);
  if (kind === "chemistry" || kind === "elongation" || IN_PER_CENT.has(quantity)) return "%";
  if (kind === "hardness" || kind === "index") return reportUnit(quantity);
  return undefined;
}
