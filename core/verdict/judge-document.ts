import { type Certificate, CONFIDENCE_THRESHOLD, type Reading } from "../certificate/certificate.js";
import { normaliseHeatNumber } from "../certificate/heat-number.js";
import { isElement } from "../quantity/quantity.js";
import type { Requirement } from "../requirement/requirement.js";
import { DOCUMENT_TYPES } from "../requirement/requirement.js";
import type { Judgement } from "./judgement.js";

/**
 * Inspection document type, EN 10204:2004: 2.1 and 2.2 rest on non-specific inspection, 3.1 is validated by the manufacturer's
 * inspection representative, 3.2 also by the purchaser's. A higher type serves for a lower one.
 * `certificates`: those that name the heat. Where one states the heat's composition, it is the mill's and its type counts; a
 * laboratory's test record needs none, but one that states a lower type leaves its results unproven.
 */
export function judgeDocumentType(
  requirement: Requirement | null,
  certificates: readonly Certificate[],
  heat: string,
): readonly Judgement[] {
  const wanted = requirement?.document?.type;
  if (wanted === undefined) return [];
  const facts = {
    quantity: "document type",
    readings: [],
    source: { standard: requirement?.name ?? "requirement", clause: "document type" },
    notes: [],
  };
  const ofMill = certificates.filter((certificate) => readingsOf(certificate, heat).some(isCastElement));
  const { stated, readable } = typesOf(ofMill.length > 0 ? ofMill : certificates);
  const best = readable.at(-1);
  if (best === undefined) {
    const reason = stated.length > 0 ? "low-confidence" : "not-reported";
    return [{ ...facts, outcome: "undetermined", reason, says: { code: "document-type", wanted } }];
  }
  if (rank(best) < rank(wanted)) {
    return [{ ...facts, outcome: "fail", says: { code: "document-type", stated: best, wanted } }];
  }
  const all = typesOf(certificates.filter((certificate) => readingsOf(certificate, heat).length > 0)).readable;
  if (all.some((type) => rank(type) < rank(wanted))) {
    const says = { code: "document-types-differ", stated: [...new Set(all)], wanted } as const;
    return [{ ...facts, outcome: "undetermined", reason: "document-type", says }];
  }
  return [{ ...facts, outcome: "pass", says: { code: "document-type", stated: best, wanted } }];
}

function readingsOf({ heats }: Certificate, heat: string): readonly Reading[] {
  const name = normaliseHeatNumber(heat);
  return heats.flatMap((record) => (normaliseHeatNumber(record.heat.value) === name ? record.readings : []));
}

function isCastElement({ quantity, zone }: Reading): boolean {
  return isElement(quantity) && (zone ?? "base") === "base";
}

/** Types as stated, and those that were read with certainty, lowest first. */
function typesOf(certificates: readonly Certificate[]) {
  const stated = certificates.flatMap(({ type }) => (type ? [type] : []));
  const readable = stated.filter(({ confidence }) => confidence >= CONFIDENCE_THRESHOLD).map(({ value }) => value);
  return { stated, readable: readable.sort((left, right) => rank(left) - rank(right)) };
}

/** Position in the order of weight; -1 for a type that is not of EN 10204. */
function rank(type: string): number {
  const types: readonly string[] = DOCUMENT_TYPES;
  return types.indexOf(type);
}
