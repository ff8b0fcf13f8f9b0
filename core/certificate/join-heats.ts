import type { HeatRecord } from "./certificate.js";
import type { Doubt } from "./evidence.js";
import type { DocumentCertificate, JoinedHeat } from "./joined-heat.js";

export interface Joined {
  /** In the order in which the heats first stand in the documents. */
  readonly heats: readonly JoinedHeat[];
  readonly doubts: readonly Doubt[];
}

/** Heat numbers are the same when they are equal after spaces, hyphens and case are left out; O and 0 are never taken for one another. */
export function normaliseHeatNumber(text: string): string {
  return text.toUpperCase().replace(/[\s\u00a0\-‐-―_.]/g, "");
}

/** Brings together what the documents of a submission say of each heat. */
export function joinHeats(documents: readonly DocumentCertificate[]): Joined {
  const byHeat = new Map<string, { document: number; record: HeatRecord }[]>();
  for (const { document, certificate } of documents) {
    for (const record of certificate.heats) {
      const key = normaliseHeatNumber(record.heat.value);
      byHeat.set(key, [...(byHeat.get(key) ?? []), { document, record }]);
    }
  }
  return { heats: [...byHeat.values()].map(join), doubts: [] };
}

function join(records: readonly { document: number; record: HeatRecord }[]): JoinedHeat {
  return {
    heat: records[0]!.record.heat.value,
    readings: records.flatMap(({ record }) => record.readings),
    claims: records.flatMap(({ record }) => record.claims),
    products: records.map(({ record }) => record.product),
    documents: [...new Set(records.map(({ document }) => document))],
    confidence: Math.min(...records.map(({ record }) => record.heat.confidence)),
  };
}
