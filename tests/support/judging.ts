import type { Reading } from "../../core/certificate/certificate.js";
import { numbered } from "../../core/certificate/join-heats.js";
import type { Known, Limit } from "../../core/grades/grade.js";
import { type Quantity, reportUnit } from "../../core/quantity/quantity.js";
import type { AppliedLimit } from "../../core/verdict/applied-limit.js";
import type { HeatEvidence } from "../../core/verdict/heat-evidence.js";
import type { Judgement } from "../../core/verdict/judgement.js";

export const SEEN: Known = { how: "seen", sources: 2 };
export const MEMORY: Known = { how: "memory", sources: 0 };

/** A limit of an invented American grade, ready to be held: verified and by the rounding method unless said otherwise. */
export function appliedLimit(
  limit: Partial<Limit> & { readonly quantity: Quantity },
  more: Partial<AppliedLimit> = {},
): AppliedLimit {
  const known = limit.known ?? SEEN;
  const source = { clause: "Table 1" };
  return {
    limit: { id: limit.quantity, unit: reportUnit(limit.quantity), source, known, ...limit },
    id: `astm-x1/2020/x#${limit.quantity}`,
    holder: "X",
    source: { standard: "ASTM X1", edition: "2020", clause: "Table 1", known },
    rounding: "rounding method",
    hasOwnProductLimit: false,
    ...more,
  };
}

export function evidenceOf(readings: readonly Reading[], more: Partial<HeatEvidence> = {}): HeatEvidence {
  return {
    readings: numbered(readings),
    doubts: [],
    facts: { disagreements: [] },
    claimedStandards: ["ASTM X1"],
    ...more,
  };
}

/** "undetermined not-reported" for each judgement. */
export function outcomesOf(judgements: readonly Judgement[]): string[] {
  return judgements.map(({ outcome, reason }) => [outcome, reason].filter(Boolean).join(" "));
}
