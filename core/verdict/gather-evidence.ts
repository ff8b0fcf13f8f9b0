import type { Doubt } from "../certificate/evidence.js";
import type { JoinedHeat } from "../certificate/joined-heat.js";
import { productFacts } from "../requirement/product-facts.js";
import type { Requirement } from "../requirement/requirement.js";
import type { HeatEvidence } from "./heat-evidence.js";
import type { NumberedReading } from "./judgement.js";

/** Numbers the heat's readings, and brings together what is known of its product. */
export function gatherEvidence(
  heat: JoinedHeat,
  doubts: readonly Doubt[],
  requirement: Requirement | null,
): HeatEvidence {
  const readings = heat.readings.map((reading, index): NumberedReading => ({ ...reading, id: index + 1 }));
  const standards = heat.claims.flatMap(({ value }) => (value.standard === undefined ? [] : [value.standard]));
  return {
    readings,
    doubts,
    facts: productFacts(requirement, heat.products),
    claimedStandards: [...new Set(standards)],
  };
}
