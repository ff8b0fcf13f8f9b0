import type { Product } from "../certificate/certificate.js";
import type { Doubt } from "../certificate/evidence.js";
import type { JoinedHeat } from "../certificate/joined-heat.js";
import { formatMeasure } from "../quantity/measure.js";
import { type ProductFacts, productFacts } from "../requirement/product-facts.js";
import type { Requirement } from "../requirement/requirement.js";
import type { HeatEvidence } from "./heat-evidence.js";
import { NO_REQUIREMENT, Remembered } from "./remembered.js";

const FACTS = new Remembered<ProductFacts>();

/** The same facts for every heat of the same product, so that limits are chosen by them once. */
function factsOf(products: readonly Product[], requirement: Requirement | null): ProductFacts {
  const stated = products.map(({ form, thickness, condition }) => [
    form?.value,
    thickness && formatMeasure(thickness.value),
    condition?.value,
  ]);
  return FACTS.get(requirement ?? NO_REQUIREMENT, JSON.stringify(stated), () => productFacts(requirement, products));
}

/** Brings together what is known of its product. */
export function gatherEvidence(
  heat: JoinedHeat,
  doubts: readonly Doubt[],
  requirement: Requirement | null,
): HeatEvidence {
  const standards = heat.claims.flatMap(({ value }) => (value.standard === undefined ? [] : [value.standard]));
  return {
    readings: heat.readings,
    doubts,
    facts: factsOf(heat.products, requirement),
    claimedStandards: [...new Set(standards)],
  };
}
