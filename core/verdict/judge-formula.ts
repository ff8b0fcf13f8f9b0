import type { AppliedLimit } from "./applied-limit.js";
import { labelOf } from "./applied-limit.js";
import type { HeatEvidence } from "./heat-evidence.js";
import type { Judgement } from "./judgement.js";

/** Limits on computed indices. */
export function judgeFormula(applied: AppliedLimit, _evidence: HeatEvidence): Judgement {
  const of = labelOf(applied.limit);
  return {
    outcome: "undetermined",
    reason: "not-comparable",
    quantity: of,
    readings: [],
    source: applied.source,
    says: { code: "outside-range", of, because: "this formula is not held here" },
    notes: [],
  };
}
