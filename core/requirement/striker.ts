import type { Known } from "../grades/grade.js";

/** Radius of the pendulum's striking edge in mm. The two are not interchangeable. */
export type StrikerMm = 2 | 8;

export const STRIKERS = [
  { standard: "ISO 148-1", radiiMm: [2, 8], known: { how: "seen", sources: 1 } },
  { standard: "ASTM E23", radiiMm: [8], known: { how: "seen", sources: 1 } },
  { standard: "ASTM A370", radiiMm: [8], known: { how: "seen", sources: 1 } },
] as const satisfies readonly {
  readonly standard: string;
  readonly radiiMm: readonly StrikerMm[];
  readonly known: Known;
}[];

/** The 8 mm striker reads higher above about 200 J; the 2 mm one slightly higher up to 120 J (ASTM STP 1380; NIST). */
export function compareStriker(
  required: StrikerMm | undefined,
  stated: StrikerMm | undefined,
): "as required" | "differs" | "not stated" {
  if (required === undefined) return "as required";
  if (stated === undefined) return "not stated";
  return required === stated ? "as required" : "differs";
}
