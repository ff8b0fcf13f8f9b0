import type { NumberedReading } from "../../certificate/certificate.js";
import type { Judgement } from "../judgement.js";

/** What a threshold or a range rests on where the trade does so and no document was found that says so. */
export const COMMON_PRACTICE = "common practice, no source";

/**
 * Consistency can only lower: a contradiction turns a pass into undetermined and says what does not fit. `basis` is why it cannot
 * fit: a definition, arithmetic, a standard, or `COMMON_PRACTICE`.
 */
export function contradiction(what: string, readings: readonly NumberedReading[], basis: string): Judgement {
  return {
    outcome: "undetermined",
    reason: "contradiction",
    quantity: "consistency",
    readings,
    source: { standard: "consistency of the documents", clause: basis },
    says: { code: "contradiction", what },
    notes: [],
  };
}
