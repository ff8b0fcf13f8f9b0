import type { Decimal } from "../quantity/decimal.js";
import { fromNumber } from "./from-number.js";

/**
 * Minimum elongation of line and process pipe on 50 mm by cross-section and specified tensile strength:
 * 1940 A^0.2 / U^0.9 in mm2 and MPa, 625000 A^0.2 / U^0.9 in in2 and psi (seen in 2 sources).
 * The area is capped by the edition in force, 485 or 500 mm2; standards round the result to a whole or half percent.
 */
export function minimumPipeElongationPercent(areaMm2: number, tensileMPa: number, areaCapMm2 = Infinity): Decimal {
  return fromNumber((1940 * Math.min(areaMm2, areaCapMm2) ** 0.2) / tensileMPa ** 0.9, ELONGATION_PLACES);
}

export function minimumPipeElongationInchPound(areaIn2: number, tensilePsi: number, areaCapIn2 = Infinity): Decimal {
  return fromNumber((625000 * Math.min(areaIn2, areaCapIn2) ** 0.2) / tensilePsi ** 0.9, ELONGATION_PLACES);
}

const ELONGATION_PLACES = 4;
