/**
 * Elongation on another gauge length. Information beside the original value: a conversion counts for acceptance only where
 * standard or contract agree to it, and in dispute the specified gauge length rules.
 * Constants of ISO 2566 and ASTM A370 are from memory; the scopes were seen.
 */
export type SteelFamily = "ferritic" | "austenitic";

/** Exponent of Oliver's law: ISO 2566-1 and -2, and the A370 annex. */
const EXPONENTS: Readonly<Record<SteelFamily, number>> = { ferritic: 0.4, austenitic: 0.127 };

/** Between two gauge lengths k √S0: 25 % on 5.65 √S0 is 18.9 % on 11.3 √S0. */
export function convertElongation(percent: number, fromK: number, toK: number, family: SteelFamily): number {
  return percent * (fromK / toK) ** EXPONENTS[family];
}

/** Factors as ISO 2566 prints them for a start from 5.65 √S0. */
const FROM_565: Readonly<Record<SteelFamily, number>> = { ferritic: 2.0, austenitic: 1.25 };

/** From 5.65 √S0 to a fixed length, by the printed factor. */
export function elongationOnFixedLength(
  percentOn565: number,
  areaMm2: number,
  gaugeLengthMm: number,
  family: SteelFamily,
): number {
  return FROM_565[family] * percentOn565 * (Math.sqrt(areaMm2) / gaugeLengthMm) ** EXPONENTS[family];
}

/** ASTM A370: from the 0.500 in round piece on 2 in to another section and length. */
export function elongationByA370(
  percentOnRound: number,
  areaIn2: number,
  gaugeLengthIn: number,
  family: SteelFamily,
): number {
  return percentOnRound * ((4.47 * Math.sqrt(areaIn2)) / gaugeLengthIn) ** EXPONENTS[family];
}

export interface ConversionCase {
  readonly tensileStrengthMPa: number;
  readonly areaMm2: number;
  readonly gaugeLengthMm: number;
  readonly thicknessMm?: number;
}

/** What puts a case outside the scope of ISO 2566-1 (carbon and low-alloy) or -2 (austenitic, solution treated). */
export function outsideIso2566(family: SteelFamily, piece: ConversionCase): string[] {
  const { least, most, thinnest } = SCOPES[family];
  const reasons: string[] = [];
  if (piece.tensileStrengthMPa < least || piece.tensileStrengthMPa > most) {
    reasons.push(`Rm is outside ${least} to ${most} MPa`);
  }
  if (piece.gaugeLengthMm > 25 * Math.sqrt(piece.areaMm2)) reasons.push("the gauge length is above 25 √S0");
  if ((piece.thicknessMm ?? thinnest) < thinnest) {
    reasons.push(`strip under ${thinnest} mm converts only by agreement`);
  }
  return reasons;
}

const SCOPES: Readonly<Record<SteelFamily, { least: number; most: number; thinnest: number }>> = {
  ferritic: { least: 300, most: 700, thinnest: 4 },
  austenitic: { least: 450, most: 750, thinnest: 3 },
};
