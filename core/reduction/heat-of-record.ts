import type { HeatRecord } from "../certificate/certificate.js";
import type { Doubt, Evidence } from "../certificate/evidence.js";
import { HEAT_NOT_STATED } from "../certificate/heat-number.js";
import type { Noted } from "./tensile/record.js";

/** The heat that a record names, or a stand-in by the piece, so that its results are shown and nobody takes them for a heat's. */
export function heatOfRecord(
  heat: Noted<string> | undefined,
  piece: string | undefined,
  evidence: Evidence,
): { readonly heat: HeatRecord["heat"]; readonly doubts: readonly Doubt[] } {
  if (heat) {
    const at = heat.place ? { ...heat.place, document: evidence.document } : evidence;
    return { heat: { value: heat.value, printed: heat.printed, confidence: 1, evidence: at }, doubts: [] };
  }
  const name = piece === undefined ? HEAT_NOT_STATED : `${HEAT_NOT_STATED}, piece ${piece}`;
  const message =
    `The test record names no heat${piece === undefined ? "" : ` (piece ${piece})`}, so its results cannot be joined to one. ` +
    'Add a line such as "Heat: …" above the table.';
  return {
    heat: { value: name, printed: "", confidence: 0, evidence },
    doubts: [{ code: "heat-not-stated", message, evidence }],
  };
}
