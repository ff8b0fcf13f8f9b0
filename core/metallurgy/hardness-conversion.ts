/**
 * Hardness scales are quantities of their own: a limit in one is never judged by a reading in another. What is converted
 * here is information beside the original value.
 */

/** Annealed austenitic stainless steel, 60 to 100 HRB: 1/HB = 0.0001304 (130 - HRB) (ASTM E140 Table 5, from memory). */
export function austeniticBrinell(hrb: number): number | undefined {
  return hrb >= 60 && hrb <= 100 ? 1 / (0.0001304 * (130 - hrb)) : undefined;
}

export function austeniticRockwellB(hb: number): number | undefined {
  const hrb = 130 - 1 / (0.0001304 * hb);
  return hrb >= 60 && hrb <= 100 ? hrb : undefined;
}

/** Tensile strength in MPa, the least reliable conversion of all (handbook rule, from memory). */
export function tensileFromBrinell(hb: number): number {
  return 3.45 * hb;
}

/**
 * Carbon and low-alloy steel, not austenitic: HB with HRC and tensile strength in ksi, from public copies of the E140 and
 * A370 tables (seen in 2 sources).
 */
export const FERRITIC_HB_HRC_KSI: readonly (readonly [hb: number, hrc: number, ksi: number | undefined])[] = [
  [745, 65.3, undefined],
  [601, 57.3, undefined],
  [555, 54.7, 298],
  [514, 52.1, 274],
  [495, 51.0, 264],
  [461, 48.5, 242],
  [444, 47.1, 230],
  [415, 44.5, 212],
  [388, 41.8, 193],
  [363, 39.1, 177],
  [352, 37.9, 170],
  [341, 36.6, 163],
  [331, 35.5, 158],
  [321, 34.3, 152],
  [311, 33.1, 147],
  [302, 32.1, 143],
  [293, 30.9, 139],
  [285, 29.9, 135],
  [277, 28.8, 131],
  [269, 27.6, 128],
  [262, 26.6, 125],
  [255, 25.4, 121],
  [248, 24.2, 118],
  [241, 22.8, 114],
];

/** Carbon and low-alloy steel: HB with HV, HRB and tensile strength in MPa (seen in 1 source; its HV follow ISO 18265). */
export const FERRITIC_HB_HV_HRB_MPA: readonly (readonly [hb: number, hv: number, hrb: number, mpa: number])[] = [
  [255, 269, 100, 873],
  [241, 253, 98, 824],
  [229, 241, 96, 775],
  [207, 218, 93, 696],
  [187, 197, 89, 637],
  [170, 179, 85, 559],
  [156, 165, 81, 530],
  [149, 157, 79, 500],
  [131, 138, 72, 461],
  [121, 127, 67, 431],
];

export interface FerriticEquivalents {
  readonly hrc?: number;
  readonly hrb?: number;
  readonly hv?: number;
  readonly tensileMPa?: number;
  readonly tensileKsi?: number;
}

/** The other scales at a printed Brinell row; undefined between rows, which the tables leave to the reader. */
export function ferriticEquivalents(hb: number): FerriticEquivalents | undefined {
  const high = FERRITIC_HB_HRC_KSI.find(([row]) => row === hb);
  const low = FERRITIC_HB_HV_HRB_MPA.find(([row]) => row === hb);
  if (!high && !low) return undefined;
  return {
    ...(high && { hrc: high[1] }),
    ...(high?.[2] !== undefined && { tensileKsi: high[2] }),
    ...(low && { hv: low[1], hrb: low[2], tensileMPa: low[3] }),
  };
}
