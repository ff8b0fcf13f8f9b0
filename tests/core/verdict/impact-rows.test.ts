import { describe, expect, it } from "vitest";
import { requirementSchema } from "../../../core/requirement/requirement.js";
import { judgeHeat } from "../../../core/verdict/judge-heat.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";
import { heatOf, impactSet } from "../../support/heat.js";

const library = await loadLibrary();

/** EN 10025-3 prints energies of S355NL by temperature, longitudinal: 63 J at +20 °C down to 27 J at -50 °C. */
function impactOutcomes(sets: Parameters<typeof heatOf>[0]): string[] {
  const requirement = requirementSchema.parse({
    requirement: 1,
    name: "support ring",
    grades: [{ standard: "EN 10025-3", grade: "S355NL" }],
    product: { form: "plate", thickness: "20 mm" },
  });
  const { judgements } = judgeHeat({ heat: heatOf(sets), certificates: [], doubts: [], requirement, library });
  return judgements
    .filter(({ limit, outcome }) => limit?.id.includes("#KV") && outcome !== "not-applicable")
    .map(({ limit, outcome }) => `${limit?.id.split("#")[1]} ${outcome}`);
}

describe("impact energies printed by temperature", () => {
  it("hold a set to the row of its temperature, not to warmer rows that nobody tested", () => {
    const cold = impactSet(["32 J", "35 J", "31 J"], { at: "-50 °C", orientation: "longitudinal" });
    expect(impactOutcomes(cold)).toEqual(["KV.longitudinal.-50C pass", "KV.longitudinal.-50C pass"]);
  });

  it("miss the row that the standard wants verified when it was not tested", () => {
    const warm = impactSet(["90 J", "95 J", "92 J"], { at: "20 °C", orientation: "longitudinal" });
    expect(impactOutcomes(warm)).toContain("KV.longitudinal.-50C undetermined");
  });
});
