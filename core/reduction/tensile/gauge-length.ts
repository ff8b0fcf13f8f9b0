import type { Quantity } from "../../quantity/quantity.js";

/** L0 may be rounded to a multiple of 5 mm where that changes it by less than a tenth (ISO 6892-1:2019, clause 8.2). */
const ROUNDING_SHARE = 0.1;
/** Fixed and diameter-based lengths are marked within 1 %; inches stand for 50, 80 and 200 mm in practice. */
const MARKING_SHARE = 0.025;

/**
 * Which elongation a gauge length gives: `A` on 5.65 √S0, `A11.3`, `A4` on four diameters of a round piece, else a fixed length;
 * `Elongation` where it fits none, or the section is unknown.
 */
export function elongationOn(gaugeLengthMm: number, areaMm2: number, diameterMm?: number): Quantity {
  const near = (lengthMm: number, share: number) => Math.abs(gaugeLengthMm / lengthMm - 1) <= share;
  const rootMm = Math.sqrt(areaMm2);
  if (near(5.65 * rootMm, MARKING_SHARE)) return "A";
  if (diameterMm !== undefined && near(4 * diameterMm, MARKING_SHARE)) return "A4";
  if (near(11.3 * rootMm, MARKING_SHARE)) return "A11.3";
  if (near(5.65 * rootMm, ROUNDING_SHARE) && gaugeLengthMm % 5 === 0) return "A";
  if (near(50, MARKING_SHARE)) return "A50";
  if (near(80, MARKING_SHARE)) return "A80";
  if (near(200, MARKING_SHARE)) return "A200";
  return "Elongation";
}
