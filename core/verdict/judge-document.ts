import { type Certificate, CONFIDENCE_THRESHOLD } from "../certificate/certificate.js";
import type { Requirement } from "../requirement/requirement.js";
import { DOCUMENT_TYPES } from "../requirement/requirement.js";
import type { Judgement } from "./judgement.js";

/**
 * Inspection document type, EN 10204:2004: 2.1 and 2.2 rest on non-specific inspection, 3.1 is validated by the manufacturer's
 * inspection representative, 3.2 also by the purchaser's. A higher type serves for a lower one.
 * Only documents that state the heat's composition are mill certificates here; a laboratory's test record needs no type.
 */
export function judgeDocumentType(
  requirement: Requirement | null,
  certificates: readonly Certificate[],
): readonly Judgement[] {
  const wanted = requirement?.document?.type;
  if (wanted === undefined) return [];
  const stated = certificates.flatMap((certificate) => (certificate.type ? [certificate.type] : []));
  const readable = stated.filter((statement) => statement.confidence >= CONFIDENCE_THRESHOLD);
  const best = readable.reduce<string | undefined>(
    (left, right) => (rank(right.value) > rank(left) ? right.value : left),
    undefined,
  );

  const facts = {
    quantity: "document type",
    readings: [],
    source: { standard: requirement?.name ?? "requirement", clause: "document type" },
    notes: [],
  };
  if (best === undefined) {
    const reason = stated.length > 0 ? "low-confidence" : "not-reported";
    return [{ ...facts, outcome: "undetermined", reason, says: { code: "document-type", wanted } }];
  }
  const says = { code: "document-type", stated: best, wanted } as const;
  return [{ ...facts, outcome: rank(best) >= rank(wanted) ? "pass" : "fail", says }];
}

/** Position in the order of weight; -1 for none and for a type that is not of EN 10204. */
function rank(type: string | undefined): number {
  const types: readonly (string | undefined)[] = DOCUMENT_TYPES;
  return types.indexOf(type);
}
