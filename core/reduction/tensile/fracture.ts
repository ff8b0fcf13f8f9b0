import type { TensileCurve } from "./curve.js";

/** A fall of this share of Rm from one sample to the next is the piece breaking, not necking. */
const BREAK_SHARE = 0.2;
/** What is below this share of Rm after the maximum is a broken piece. */
const LEFT_SHARE = 0.1;

/** Last sample before the piece breaks; the last sample of the record where no break is seen in it. */
export function findFracture(curve: TensileCurve, highestIndex: number, strengthMPa: number): number {
  const { stressMPa } = curve;
  for (let i = highestIndex + 1; i < stressMPa.length; i++) {
    if (stressMPa[i - 1]! - stressMPa[i]! > BREAK_SHARE * strengthMPa) return i - 1;
    if (stressMPa[i]! < LEFT_SHARE * strengthMPa) return i - 1;
  }
  return stressMPa.length - 1;
}
