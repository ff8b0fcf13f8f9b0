import { median } from "../statistics/median.js";
import { estimateNoise } from "../statistics/noise.js";
import type { TensileCurve } from "./curve.js";
import { type CurveDoubt, EVERYTHING, STRESSES } from "./curve-doubt.js";

/** What can be seen wrong with the samples themselves, whatever the metal. */
export function recordDoubts(
  curve: TensileCurve,
  allStressMPa: Float64Array,
  time: { readonly seconds: Float64Array | undefined; readonly curveRows: number },
  noiseMPa: number,
): CurveDoubt[] {
  return [
    stepsBack(curve),
    saturated(allStressMPa),
    time.seconds && gaps(time.seconds, time.curveRows),
    noisy(noiseMPa, curve.highestStressMPa),
  ].filter((doubt) => doubt !== undefined);
}

/** A step back below this strain is reading noise of a good extensometer (class 1 on 25 mm resolves about 0.4 µm). */
const SMALLEST_STEP_BACK = 2e-5;

/** Strain that falls while the stress does not fall with it. Unloading on purpose lowers both and is left in peace. */
function stepsBack(curve: TensileCurve): CurveDoubt | undefined {
  const { strain, stressMPa } = curve;
  const smallest = Math.max(SMALLEST_STEP_BACK, 5 * estimateNoise(strain));
  let count = 0;
  let largest = 0;
  for (let i = 1; i < strain.length; i++) {
    const back = strain[i - 1]! - strain[i]!;
    if (back <= smallest || stressMPa[i]! < stressMPa[i - 1]! * 0.98) continue;
    count++;
    if (back > largest) largest = back;
  }
  if (count === 0) return undefined;
  return {
    code: "strain-steps-back",
    message:
      `Strain steps backwards ${count} ${count === 1 ? "time" : "times"} under load, by up to ${(100 * largest).toPrecision(2)} %: ` +
      "an extensometer that slipped or a number misread. The samples were kept in their order.",
    affects: largest > 0.001 ? ["Ag", "Agt", "A", "toughness"] : [],
  };
}

const FEWEST_EQUAL = 5;
/** On a round top the highest level of a coarse converter holds about 2.4 times the samples of the next one. */
const CROWDED = 8;

/** Many samples at exactly the highest value, and few just below it: the converter or the load cell had reached its end. */
function saturated(stressMPa: Float64Array): CurveDoubt | undefined {
  let highest = Number.NEGATIVE_INFINITY;
  for (const value of stressMPa) if (value > highest) highest = value;
  const top = new Map<number, number>();
  for (const value of stressMPa) if (value > highest * 0.97) top.set(value, (top.get(value) ?? 0) + 1);
  const atTop = top.get(highest) ?? 0;
  const below = [...top.keys()].sort((a, b) => b - a).slice(1, 6);
  const nextLevel = below.length === 0 ? 0 : below.reduce((sum, value) => sum + top.get(value)!, 0) / below.length;
  if (atTop < FEWEST_EQUAL || atTop <= CROWDED * nextLevel) return undefined;
  return {
    code: "force-saturated",
    message:
      `${atTop} samples stand at exactly ${highest.toPrecision(5)} MPa, the highest value: the force seems cut off there. ` +
      "The true maximum may be higher.",
    affects: EVERYTHING.filter((quantity) => STRESSES.includes(quantity) || ["Ag", "Agt"].includes(quantity)),
  };
}

const GAP = 10;
/** Intervals on either side that say what the sampling is at this point of the test. */
const NEIGHBOURS = 5;

/**
 * An interval many times longer than those around it. Recorders that sample by force change their rate slowly, not for one interval;
 * and the stop to take the extensometer off, at the end of the curve, is no gap.
 */
function gaps(timeSeconds: Float64Array, curveRows: number): CurveDoubt | undefined {
  const intervals = new Float64Array(Math.max(0, timeSeconds.length - 1));
  for (let i = 0; i < intervals.length; i++) intervals[i] = timeSeconds[i + 1]! - timeSeconds[i]!;
  const typical = median(intervals.length > 4000 ? intervals.filter((_, i) => i % 16 === 0) : intervals);
  let count = 0;
  let longest = 0;
  let backwards = 0;
  for (let i = 0; i < intervals.length; i++) {
    const interval = intervals[i]!;
    if (interval < 0) backwards++;
    if (!(interval > GAP * typical) || i === curveRows - 1) continue;
    const around = intervals
      .slice(Math.max(0, i - NEIGHBOURS), i + NEIGHBOURS + 1)
      .filter((_, at, all) => all[at] !== interval);
    if (around.length > 0 && interval <= GAP * median(around)) continue;
    count++;
    if (interval > longest) longest = interval;
  }
  if (count === 0 && backwards === 0) return undefined;
  const parts = [
    count > 0 ? `${count} ${count === 1 ? "gap" : "gaps"} of up to ${longest.toPrecision(3)} s between samples` : "",
    backwards > 0 ? `time running backwards ${backwards} times` : "",
  ].filter((part) => part !== "");
  return {
    code: "samples-missing",
    message: `The record has ${parts.join(" and ")} (usual interval ${typical.toPrecision(3)} s): samples are missing.`,
    affects: [],
  };
}

/** Noise that could move a strength by more than this share makes every strength doubtful. */
const NOISE_SHARE = 0.01;

function noisy(noiseMPa: number, highestMPa: number): CurveDoubt | undefined {
  if (noiseMPa <= NOISE_SHARE * highestMPa) return undefined;
  return {
    code: "noise",
    message: `The stress is noisy: standard deviation ${noiseMPa.toPrecision(2)} MPa from sample to sample.`,
    affects: EVERYTHING,
  };
}
