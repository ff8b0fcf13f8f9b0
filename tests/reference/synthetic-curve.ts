import type { Specimen, TensileColumns, TensileRecord } from "../../core/reduction/tensile/record.js";

/** A record of plain strain and stress, as if read from a file. */
export function recordOf(columns: TensileColumns, specimen: Specimen = {}): TensileRecord {
  const rows = Object.values(columns)[0]?.length ?? 0;
  const place = { line: 1, column: 1 };
  return { columns, rows, specimen, stated: [], place, lastPlace: place, notes: [], doubts: [] };
}

/** Ramberg-Osgood strain: plastic strain is exactly 0.002 at `proofMPa`. */
export function rambergOsgoodStrain(stressMPa: number, modulusMPa: number, proofMPa: number, exponent: number): number {
  return stressMPa / modulusMPa + 0.002 * (stressMPa / proofMPa) ** exponent;
}

/**
 * An annealed austenitic steel, exact by construction: elastic, then power-law plastic strain, to Rm at 40 % and a neck to
 * fracture. Rp0.2 and Rp1.0 follow from the formula. Sampled at even steps of strain, which is even steps of time.
 */
export const AUSTENITIC = { modulusMPa: 195_000, proofMPa: 260, exponent: 6, strengthMPa: 620, fractureStrain: 0.55 };

export function austeniticStress(strain: number): number {
  const { modulusMPa, proofMPa, exponent, strengthMPa, fractureStrain } = AUSTENITIC;
  const strengthStrain = rambergOsgoodStrain(strengthMPa, modulusMPa, proofMPa, exponent);
  if (strain > strengthStrain) {
    const share = (strain - strengthStrain) / (fractureStrain - strengthStrain);
    return strengthMPa * (1 - 0.3 * share * share);
  }
  // The formula gives strain from stress. It is convex and rising, so Newton's steps from above come down to the root and stop.
  let stress = Math.min(modulusMPa * strain, proofMPa * (strain / 0.002) ** (1 / exponent));
  for (let step = 0; step < 12 && stress > 0; step++) {
    const off = rambergOsgoodStrain(stress, modulusMPa, proofMPa, exponent) - strain;
    stress -= off / (1 / modulusMPa + (0.002 * exponent * (stress / proofMPa) ** exponent) / stress);
  }
  return stress;
}

/** Points given as (strain, MPa), with `samples` even steps along the strain axis. */
export function alongPolyline(points: readonly (readonly [number, number])[], samples: number) {
  const last = points[points.length - 1]![0];
  const strain = new Float64Array(samples);
  const stressMPa = new Float64Array(samples);
  let segment = 0;
  for (let i = 0; i < samples; i++) {
    const at = (last * i) / (samples - 1);
    while (segment < points.length - 2 && at > points[segment + 1]![0]) segment++;
    const [x0, y0] = points[segment]!;
    const [x1, y1] = points[segment + 1]!;
    strain[i] = at;
    stressMPa[i] = y0 + ((y1 - y0) * (at - x0)) / (x1 - x0);
  }
  return { strain, stressMPa };
}

/** Repeatable noise: mulberry32, then Box and Muller. */
export function normalNoise(seed: number): () => number {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
