import type { Judgement, NumberedReading } from "../judgement.js";

/** Consistency can only lower: a contradiction turns a pass into undetermined and says what does not fit. */
export function contradiction(what: string, readings: readonly NumberedReading[]): Judgement {
  return {
    outcome: "undetermined",
    reason: "contradiction",
    quantity: "consistency",
    readings,
    source: { standard: "consistency of the documents" },
    says: { code: "contradiction", what },
    notes: [],
  };
}
