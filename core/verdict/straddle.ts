import { convert } from "../quantity/unit.js";
import { type AppliedLimit, printedLimit } from "./applied-limit.js";
import { analysisOf, type HeatEvidence } from "./heat-evidence.js";
import { hold } from "./hold.js";
import type { Judgement } from "./judgement.js";
import { isVerified } from "./known.js";

/**
 * Several product determinations of one element in one heat may lie above the range or below it, not both
 * (EN 10088-2, product analysis; ASTM A480 in memory).
 */
export function straddles(applied: AppliedLimit, evidence: HeatEvidence): readonly Judgement[] {
  const { limit } = applied;
  const printed = printedLimit(applied, "si");
  if (printed.min === undefined || printed.max === undefined || limit.sumOf !== undefined) return [];

  const outside = evidence.readings.flatMap((reading) => {
    if (reading.quantity !== limit.quantity || analysisOf(reading) !== "product" || reading.bound !== undefined)
      return [];
    const value = convert(reading.value, reading.unit, printed.unit);
    const held = value && hold({ low: value, high: value }, printed, applied.rounding);
    return held?.outcome === "fail" ? [{ reading, side: held.side }] : [];
  });
  if (new Set(outside.map(({ side }) => side)).size < 2) return [];

  const rows = applied.tolerances?.rows.filter((row) => row.element === limit.quantity) ?? [];
  const isKnown = rows.length > 0 && rows.every((row) => isVerified(row.known));
  const known = rows.find((row) => !isVerified(row.known))?.known ?? NOT_FOUND;
  return [
    {
      outcome: isKnown ? "fail" : "undetermined",
      ...(!isKnown && { reason: "reference-unverified" as const }),
      quantity: printed.quantity,
      readings: outside.map(({ reading }) => reading),
      limit: printed,
      source: isKnown ? applied.source : { ...applied.source, by: { name: "product-analysis tolerance", known } },
      says: { code: "straddles" },
      notes: [],
    },
  ];
}

/** A standard whose tolerances are not in the library may have them all the same. */
const NOT_FOUND = { how: "memory", sources: 0 } as const;
