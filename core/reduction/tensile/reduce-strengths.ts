import type { Quantity } from "../../quantity/quantity.js";
import { median } from "../statistics/median.js";
import { estimateNoise } from "../statistics/noise.js";
import { indexOfHighest } from "./curve.js";
import type { ElasticLine } from "./elastic-line.js";
import { resilienceMJPerM3 } from "./energy.js";
import { PEAK_OF_NOISE } from "./highest-stress.js";
import { type ProofStrength, proofStrength, proofUncertaintyMPa, totalExtensionStrength } from "./proof-strength.js";
import type { ReducedResult, TensileWork } from "./reduction.js";

/** Rm, ReH, ReL, Rp0.2, Rp1.0, Rt0.5, the slope and the resilience, in that order; what the record doesn't give is left out. */
export function reduceStrengths(work: TensileWork, allStressMPa: Float64Array): ReducedResult[] {
  const { line, curve, noiseMPa } = work;
  const results: ReducedResult[] = [tensileStrength(work, allStressMPa), ...yieldStrengths(work)];
  if (!line) return results;

  const lineNote = describeLine(line);
  const noise = { stressMPa: noiseMPa, strain: estimateNoise(curve.strain) };
  const proofAt = (quantity: Quantity, plasticStrain: number) => {
    const found = proofStrength(curve, line, plasticStrain);
    const u = found ? proofUncertaintyMPa(curve, line, found, plasticStrain, noise) : 0;
    return fromCrossing(quantity, found, u, [lineNote, ...plateauNote(work, found)]);
  };
  const totalAt = totalExtensionStrength(curve, line, 0.005);
  const proof = proofAt("Rp0.2", 0.002);
  results.push(
    ...proof,
    ...proofAt("Rp1.0", 0.01),
    ...fromCrossing("Rt0.5", totalAt, noiseMPa, [
      `total extension counted from ${(100 * line.zeroStrain).toFixed(4)} % (zero of the elastic line)`,
    ]),
    { quantity: "E", value: line.slopeMPa / 1000, notes: [`${lineNote}; slope of the curve, no modulus test`] },
  );
  for (const { value } of proof) {
    results.push({ quantity: "resilience", value: resilienceMJPerM3(value, line.slopeMPa), notes: ["Rp0.2² / 2E"] });
  }
  return results;
}

/**
 * Where the upper yield stress is above everything after it, Rm is the highest stress after yielding (ISO 6892-1:2019, 3.10.1,
 * figure 8): a steel with a marked yield point hardens to an Rm that may be lower than ReH.
 */
function tensileStrength(
  { highest, yieldPoint, curve, noiseMPa }: TensileWork,
  allStressMPa: Float64Array,
): ReducedResult {
  const averaged = highest.averagedOver > 1 ? [`noise averaged over ${highest.averagedOver} samples`] : [];
  if (yieldPoint && yieldPoint.upperMPa >= highest.stressMPa && curve.complete) {
    const after = indexOfHighest(allStressMPa, yieldPoint.hardenedIndex);
    const note = `highest stress after yielding; the upper yield stress ${yieldPoint.upperMPa.toFixed(1)} MPa is above it`;
    return { quantity: "Rm", value: allStressMPa[after]!, notes: [note] };
  }
  const doubtful =
    noiseDoubt(highest.stressMPa, (PEAK_OF_NOISE * noiseMPa) / Math.sqrt(highest.averagedOver)) ??
    (hasPassed(allStressMPa, highest.stressMPa)
      ? undefined
      : "the record ends at its highest force, before any fall: the piece may have carried more");
  const notes = ["highest stress of the record", ...averaged];
  return { quantity: "Rm", value: highest.stressMPa, notes, ...(doubtful !== undefined && { doubtful }) };
}

/** A fall by this share of Rm at the end of the record shows that the highest force was behind it. */
const PASSED_SHARE = 0.005;
const LAST_SAMPLES = 9;

function hasPassed(allStressMPa: Float64Array, strengthMPa: number): boolean {
  const last = allStressMPa.subarray(-LAST_SAMPLES);
  const lastMPa = Math.min(median(last), allStressMPa.at(-1)!);
  return lastMPa < (1 - PASSED_SHARE) * strengthMPa;
}

/** Both are single samples, the highest and the lowest of many: noise moves them by its whole reach. */
function yieldStrengths({ yieldPoint, noiseMPa }: TensileWork): ReducedResult[] {
  if (!yieldPoint) return [];
  const result = (quantity: Quantity, value: number, note: string): ReducedResult => {
    const doubtful = noiseDoubt(value, PEAK_OF_NOISE * noiseMPa);
    return { quantity, value, notes: [note], ...(doubtful !== undefined && { doubtful }) };
  };
  const { upperMPa, lowerMPa } = yieldPoint;
  const upper = result("ReH", upperMPa, "discontinuous yielding: highest stress before the first fall in force");
  if (lowerMPa === undefined) return [upper];
  return [upper, result("ReL", lowerMPa, "lowest stress while yielding, first swing left out")];
}

/** ISO 6892-1:2019, clause 13.1: no proof strength in or after discontinuous yielding unless agreed. */
function plateauNote({ yieldPoint, curve }: TensileWork, proof: ProofStrength | undefined): string[] {
  if (!yieldPoint || !proof || proof.strain < curve.strain[yieldPoint.upperIndex]!) return [];
  return ["falls into discontinuous yielding: ISO 6892-1 reports ReH and ReL instead unless agreed otherwise"];
}

/** A crossing between two samples that are further apart than this is interpolated over too much. */
const COARSE_SHARE = 0.05;

function fromCrossing(
  quantity: Quantity,
  found: ProofStrength | undefined,
  u: number,
  notes: string[],
): ReducedResult[] {
  if (!found) return [];
  const coarse = found.stepMPa > COARSE_SHARE * found.stressMPa;
  const step = `interpolated between samples ${found.stepMPa.toFixed(0)} MPa apart`;
  const doubtful = coarse ? step : noiseDoubt(found.stressMPa, COVERAGE * u);
  return [{ quantity, value: found.stressMPa, notes, ...(doubtful !== undefined && { doubtful }) }];
}

/** Noise may move a strength by as much as a class 1 machine may (ISO 7500-1: 1 %) before the strength is doubted. */
const NOISE_SHARE = 0.01;
/** Standard uncertainties counted against that: the noise itself is only estimated, and a strength that decides should not be bad luck. */
const COVERAGE = 4;

function noiseDoubt(stressMPa: number, movedByMPa: number): string | undefined {
  if (movedByMPa <= NOISE_SHARE * stressMPa) return undefined;
  return `noise may have moved it by ${movedByMPa.toPrecision(2)} MPa`;
}

/** "slope 199.6 GPa (u 0.3) over 50 to 188 MPa, 412 samples, R² 0.99998, zero at -0.0231 %" */
export function describeLine(line: ElasticLine): string {
  return (
    `slope ${(line.slopeMPa / 1000).toFixed(1)} GPa (u ${(line.slopeStandardErrorMPa / 1000).toPrecision(2)}) ` +
    `over ${line.window.fromMPa.toFixed(0)} to ${line.window.toMPa.toFixed(0)} MPa, ${line.points} samples, ` +
    `R² ${line.rSquared.toFixed(5)}, zero at ${(100 * line.zeroStrain).toFixed(4)} %`
  );
}
