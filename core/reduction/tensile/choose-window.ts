import type { TensileCurve } from "./curve.js";
import { type ElasticLine, fitElasticLine } from "./elastic-line.js";
import { proofStrength } from "./proof-strength.js";

/** The window of the automatic recipe: 10 to 40 % of Rm reproduces published proof strengths of ferritic steels. */
const LOW_SHARE_OF_STRENGTH = 0.1;
const HIGH_SHARE_OF_STRENGTH = 0.4;
/**
 * But never above 40 % of Rp0.2, nor starting above 15 % of it. An annealed austenitic steel has Rm at more than twice Rp0.2 and
 * bends long before 40 % of Rm (ISO 6892-1:2019, annex G, looks for the slope between about 10 and 40 % of the proof strength).
 */
const HIGH_SHARE_OF_PROOF = 0.4;
const LOW_SHARE_OF_PROOF = 0.15;

const MOST_ROUNDS = 8;

/** Fits the elastic line in the usual window, then again as low as the proof strength that it gives asks for, until that holds still. */
export function chooseElasticLine(curve: TensileCurve, strengthMPa: number): ElasticLine | undefined {
  let fromMPa = LOW_SHARE_OF_STRENGTH * strengthMPa;
  let toMPa = HIGH_SHARE_OF_STRENGTH * strengthMPa;
  let line = fitElasticLine(curve, fromMPa, toMPa);
  for (let round = 0; line && round < MOST_ROUNDS; round++) {
    const proof = proofStrength(curve, line, 0.002)?.stressMPa;
    if (proof === undefined || toMPa <= HIGH_SHARE_OF_PROOF * proof * 1.001) return line;
    toMPa = HIGH_SHARE_OF_PROOF * proof;
    fromMPa = Math.min(fromMPa, LOW_SHARE_OF_PROOF * proof);
    line = fitElasticLine(curve, fromMPa, toMPa) ?? line;
  }
  return line;
}
