import { ELONGATIONS } from "../../quantity/quantity.js";
import { median } from "../statistics/median.js";
import { estimateNoise } from "../statistics/noise.js";
import type { TensileCurve } from "./curve.js";
import { type CurveDoubt, FROM_THE_LINE } from "./curve-doubt.js";
import { mayHideHighest } from "./highest-stress.js";

const AFTER_YIELD = ["Ag", "Agt", ...ELONGATIONS, "toughness"] as const;
const PROOF = [...FROM_THE_LINE, "Rt0.5"] as const;

/** A slip of this strain is a fortieth of the 0.2 % that a proof strength is offset by: more moves it. */
const MATTERS_BEFORE_PROOF = 5e-5;
/** Elongations are reported to 0.5 points: a fifth of that. */
const MATTERS_AFTER_PROOF = 0.001;

interface Step {
  readonly index: number;
  readonly size: number;
}

/**
 * Steps of the strain that the piece cannot have made, and what hangs on the strain from there on: `proofIndex` is the first sample
 * beyond the proof strengths.
 */
export function strainStepDoubts(curve: TensileCurve, proofIndex: number): CurveDoubt[] {
  return [stepsBack(curve, proofIndex), jumpsForward(curve, proofIndex)].filter((doubt) => doubt !== undefined);
}

function affectedBy(steps: readonly Step[], proofIndex: number): CurveDoubt["affects"] {
  const before = steps.some(({ index, size }) => index <= proofIndex && size > MATTERS_BEFORE_PROOF);
  const far = steps.some(({ size }) => size > MATTERS_AFTER_PROOF);
  return [...(before ? PROOF : []), ...(far ? AFTER_YIELD : [])];
}

/** A step back below this strain is reading noise of a good extensometer (class 1 on 25 mm resolves about 0.4 µm). */
const SMALLEST_STEP_BACK = 2e-5;

/** Strain that falls while the stress does not fall with it. Unloading on purpose lowers both and is left in peace. */
function stepsBack(curve: TensileCurve, proofIndex: number): CurveDoubt | undefined {
  const { strain, stressMPa } = curve;
  const smallest = Math.max(SMALLEST_STEP_BACK, 5 * estimateNoise(strain));
  const steps: Step[] = [];
  let largest = 0;
  let count = 0;
  for (let i = 1; i < strain.length; i++) {
    const size = strain[i - 1]! - strain[i]!;
    if (size <= smallest || stressMPa[i]! < stressMPa[i - 1]! * 0.98) continue;
    count++;
    largest = Math.max(largest, size);
    // One sample misread is made good by the next one; a slip stays.
    if (!(strain[i + 1]! >= strain[i - 1]!)) steps.push({ index: i, size });
  }
  if (count === 0) return undefined;
  return {
    code: "strain-steps-back",
    message:
      `Strain steps backwards ${count} ${count === 1 ? "time" : "times"} under load, by up to ${(100 * largest).toPrecision(2)} %: ` +
      "an extensometer that slipped or a number misread. The samples were kept in their order.",
    affects: affectedBy(steps, proofIndex),
  };
}

/** Below this a jump is smaller than what extensometers are allowed to be off by (class 1 of ISO 9513: 3 µm, here on 50 mm). */
const SMALLEST_JUMP = 6e-5;
/** So many times the steps on either side; recorders that change their rate have long steps on one side of the change only. */
const JUMP = 10;
const NEIGHBOURS = 5;
/** A fall in stress with it is the metal's own: yielding in bands and serrations come as bursts of strain. */
const OWN_FALL_SHARE = 0.002;
const LONGEST_BURST = 0.03;
/** A jump this long may have the highest stress in it. */
const HIDES_STRAIN = 0.005;

function jumpsForward(curve: TensileCurve, proofIndex: number): CurveDoubt | undefined {
  const { strain, stressMPa, highestStressMPa } = curve;
  const smallest = Math.max(SMALLEST_JUMP, 8 * estimateNoise(strain));
  const jumps: Step[] = [];
  for (let index = 1; index < strain.length; index++) {
    const size = strain[index]! - strain[index - 1]!;
    const fall = stressMPa[index - 1]! - stressMPa[index]!;
    if (!(size > smallest)) continue;
    const isOwn = fall > OWN_FALL_SHARE * highestStressMPa && size < LONGEST_BURST;
    const isReturn = index > 1 && strain[index - 1]! < strain[index - 2]!;
    if (isOwn || isReturn) continue;
    const usual = Math.max(
      usualStep(strain, index - NEIGHBOURS, index),
      usualStep(strain, index + 1, index + 1 + NEIGHBOURS),
    );
    if (size > JUMP * usual) jumps.push({ index, size });
  }
  if (jumps.length === 0) return undefined;
  const largest = jumps.reduce((most, { size }) => Math.max(most, size), 0);
  const hidesHighest = jumps.some(
    ({ index, size }) =>
      size > HIDES_STRAIN && mayHideHighest(stressMPa[index - 1]!, stressMPa[index]!, highestStressMPa),
  );
  return {
    code: "strain-jumps",
    message:
      `Strain jumps forward ${jumps.length} ${jumps.length === 1 ? "time" : "times"} between two samples, by up to ` +
      `${(100 * largest).toPrecision(2)} %, more than ${JUMP} times the steps around it: an extensometer that slipped, or samples that are missing.`,
    affects: [...affectedBy(jumps, proofIndex), ...(hidesHighest ? (["Rm"] as const) : [])],
  };
}

/** Median of the steps that end at the samples from `from` up to but not including `to`, standstills left out. */
function usualStep(strain: Float64Array, from: number, to: number): number {
  const steps: number[] = [];
  for (let i = Math.max(1, from); i < Math.min(to, strain.length); i++) {
    const step = Math.abs(strain[i]! - strain[i - 1]!);
    if (step > 0) steps.push(step);
  }
  return steps.length === 0 ? Number.POSITIVE_INFINITY : median(steps);
}
