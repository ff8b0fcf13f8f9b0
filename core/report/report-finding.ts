import { formatDecimal } from "../quantity/decimal.js";
import type { Finding } from "../verdict/finding.js";
import type { Judgement } from "../verdict/judgement.js";
import { isSourceVerified } from "../verdict/known.js";
import { noteText, sourceKnownText } from "./wording/notes.js";
import { sentenceOf } from "./wording/sentence.js";

/** A judgement as it stands in the report: facts as text, and its words. */
export function reportFinding(judgement: Judgement): Finding {
  const { limit, source, judged, margin, unit, reason } = judgement;
  return {
    outcome: judgement.outcome,
    ...(reason !== undefined && { reason }),
    quantity: judgement.quantity,
    ...(judgement.zone && { zone: judgement.zone }),
    readings: judgement.readings.map((reading) => reading.id),
    ...(judgement.earlier && { earlier: judgement.earlier }),
    ...(judged && { judged: formatDecimal(judged) }),
    ...(unit !== undefined && { unit }),
    ...(limit && {
      limit: {
        id: limit.id,
        ...(limit.min && { min: formatDecimal(limit.min) }),
        ...(limit.max && { max: formatDecimal(limit.max) }),
        unit: limit.unit,
      },
    }),
    source: {
      standard: source.standard,
      ...(source.edition !== undefined && { edition: source.edition }),
      ...(source.clause !== undefined && { clause: source.clause }),
      known: isDemand(judgement) ? sourceKnownText(source) : "not a limit",
      verified: isSourceVerified(source),
    },
    ...(margin && { margin: formatDecimal(margin) }),
    message: sentenceOf(judgement),
    ...(judgement.notes.length > 0 && { notes: judgement.notes.map(noteText) }),
  };
}

/** Contradictions and unclear grades rest on the documents, not on anything that was demanded. */
function isDemand({ limit, source, says }: Judgement): boolean {
  return limit !== undefined || source.known !== undefined || says.code === "document-type";
}
