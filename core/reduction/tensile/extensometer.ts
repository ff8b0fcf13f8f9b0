/** How far the strain column follows the specimen. */
export interface ExtensometerRange {
  /** Samples from 0 up to here have a strain that can be trusted. */
  readonly end: number;
  readonly ended?: "removed" | "frozen" | "jumped";
}

/** A strain that stays exactly the same for this many samples, while the force moves, is not measured any more. */
const FROZEN_SAMPLES = 10;
const FORCE_MOVES_SHARE = 0.01;
/** A strain that falls by this much from one sample to the next, under load, is an extensometer coming off or slipping. */
const JUMP_STRAIN = 0.002;
const JUMP_SHARE = 0.2;

/** Finds where an extensometer was taken off, reached its end, or jumped. `strain` may hold NaN where nothing was recorded. */
export function extensometerRange(
  strain: Float64Array,
  stressMPa: Float64Array,
  highestMPa: number,
): ExtensometerRange {
  let end = strain.length;
  while (end > 0 && Number.isNaN(strain[end - 1]!)) end--;
  const removed = strain.length - end >= FROZEN_SAMPLES;

  const jump = firstJump(strain, stressMPa, end, highestMPa);
  if (jump !== undefined) return { end: jump, ended: "jumped" };
  const frozen = frozenFrom(strain, stressMPa, end, highestMPa);
  if (frozen !== undefined) return { end: frozen, ended: "frozen" };
  return removed ? { end, ended: "removed" } : { end };
}

function firstJump(strain: Float64Array, stressMPa: Float64Array, end: number, highestMPa: number): number | undefined {
  for (let i = 1; i < end; i++) {
    const fall = strain[i - 1]! - strain[i]!;
    if (!(fall > JUMP_STRAIN && fall > JUMP_SHARE * Math.abs(strain[i - 1]!))) continue;
    // A piece that breaks lets go of its strain together with its load.
    const underLoad = stressMPa[i]! > 0.5 * stressMPa[i - 1]! && stressMPa[i]! > 0.1 * highestMPa;
    if (underLoad) return i;
  }
  return undefined;
}

function frozenFrom(
  strain: Float64Array,
  stressMPa: Float64Array,
  end: number,
  highestMPa: number,
): number | undefined {
  let from = end - 1;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  while (from > 0 && strain[from - 1] === strain[end - 1]) {
    from--;
    low = Math.min(low, stressMPa[from]!);
    high = Math.max(high, stressMPa[from]!);
  }
  const moves = high - low > FORCE_MOVES_SHARE * highestMPa;
  return end - from >= FROZEN_SAMPLES && moves ? from + 1 : undefined;
}
