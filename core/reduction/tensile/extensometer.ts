import { estimateNoise } from "../statistics/noise.js";

/** How far the strain column follows the specimen. */
export interface ExtensometerRange {
  /** Samples from 0 up to here have a strain that can be trusted. */
  readonly end: number;
  readonly ended?: "removed" | "frozen" | "jumped";
}

/** A strain that stays exactly the same for this many samples, while the force moves, is not measured any more. */
const FROZEN_SAMPLES = 10;
const FORCE_MOVES_SHARE = 0.01;
/** The noise of a channel that stands still reaches to either side of its mean. */
const STILL_NOISES = 10;
const NOISE_SAMPLES = 200;
const STIFFEST_MPA = 220_000;
/** A strain that falls by this much from one sample to the next, under load, is an extensometer coming off or slipping. */
const JUMP_STRAIN = 0.002;
const JUMP_SHARE = 0.2;

/** Strain may lie behind its own highest by this much more than unloading explains, before it is taken for an extensometer that opens. */
const BEHIND_STRAIN = 0.002;
const BEHIND_SHARE = 0.05;
/** Unloading gives back stress over modulus: of the softest metal here, so that it is never mistaken. */
const SOFTEST_MPA = 40_000;

/** Finds where an extensometer was taken off, reached its end, or jumped. `strain` may hold NaN where nothing was recorded. */
export function extensometerRange(
  strain: Float64Array,
  stressMPa: Float64Array,
  highestMPa: number,
): ExtensometerRange {
  let end = strain.length;
  while (end > 0 && Number.isNaN(strain[end - 1]!)) end--;
  const removed = strain.length - end >= FROZEN_SAMPLES;
  end = Math.min(end, endOfLoad(stressMPa, highestMPa));

  const jump = firstJump(strain, stressMPa, end, highestMPa);
  if (jump !== undefined) return { end: jump, ended: "jumped" };
  const opened = openedFrom(strain, stressMPa, end);
  if (opened !== undefined) return { end: opened, ended: "jumped" };
  const frozen = frozenFrom(strain, stressMPa, end, highestMPa);
  if (frozen !== undefined) return { end: frozen, ended: "frozen" };
  return removed ? { end, ended: "removed" } : { end: strain.length };
}

/** Below this share of the highest stress, to the end of the record, the piece is broken and its strain means nothing. */
const BROKEN_SHARE = 0.1;

/** The sample behind the last one under load. */
function endOfLoad(stressMPa: Float64Array, highestMPa: number): number {
  let end = stressMPa.length;
  while (end > 0 && !(stressMPa[end - 1]! > BROKEN_SHARE * highestMPa)) end--;
  return end;
}

/** Where strain went back little by little, by more than unloading gives back: the sample behind the last one that was measured. */
function openedFrom(strain: Float64Array, stressMPa: Float64Array, end: number): number | undefined {
  let farthest = 0;
  for (let i = 1; i < end; i++) {
    if (strain[i]! >= strain[farthest]!) farthest = i;
    const behind = strain[farthest]! - strain[i]!;
    const givenBack = Math.max(0, stressMPa[farthest]! - stressMPa[i]!) / SOFTEST_MPA;
    if (behind - givenBack > Math.max(BEHIND_STRAIN, BEHIND_SHARE * strain[farthest]!)) return farthest + 1;
  }
  return undefined;
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

/** Strain that stays within its own noise while the force moves. */
function frozenFrom(
  strain: Float64Array,
  stressMPa: Float64Array,
  end: number,
  highestMPa: number,
): number | undefined {
  const still = STILL_NOISES * estimateNoise(strain.subarray(Math.max(0, end - NOISE_SAMPLES), end));
  let from = end - 1;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  while (from > 0 && Math.abs(strain[from - 1]! - strain[end - 1]!) <= still) {
    from--;
    low = Math.min(low, stressMPa[from]!);
    high = Math.max(high, stressMPa[from]!);
  }
  // An elastic piece moves its force within that noise, too.
  const moves = high - low > FORCE_MOVES_SHARE * highestMPa + 2 * still * STIFFEST_MPA;
  return end - from >= FROZEN_SAMPLES && moves ? from + 1 : undefined;
}
