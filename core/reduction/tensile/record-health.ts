import { median } from "../statistics/median.js";
import type { TensileCurve } from "./curve.js";
import { type CurveDoubt, EVERYTHING, STRESSES } from "./curve-doubt.js";
import { isCutFlat } from "./flat-top.js";
import { mayHideHighest } from "./highest-stress.js";

/** What can be seen wrong with the samples themselves, whatever the metal. */
export function recordDoubts(
  curve: TensileCurve,
  allStressMPa: Float64Array,
  time: { readonly seconds: Float64Array | undefined; readonly curveRows: number },
  noiseMPa: number,
): CurveDoubt[] {
  return [
    saturated(allStressMPa, noiseMPa),
    time.seconds && gaps(time.seconds, time.curveRows, allStressMPa, curve.highestStressMPa),
    noisy(noiseMPa, curve.highestStressMPa),
  ].filter((doubt) => doubt !== undefined);
}

const FEWEST_EQUAL = 5;
/** On a round top the highest level of a coarse converter holds about 2.4 times the samples of the next one. */
const CROWDED = 8;

/** Many samples at exactly the highest value, and few just below it: the converter or the load cell had reached its end. */
function saturated(stressMPa: Float64Array, noiseMPa: number): CurveDoubt | undefined {
  let highest = Number.NEGATIVE_INFINITY;
  for (const value of stressMPa) if (value > highest) highest = value;
  const top = new Map<number, number>();
  for (const value of stressMPa) if (value > highest * 0.97) top.set(value, (top.get(value) ?? 0) + 1);
  const atTop = top.get(highest) ?? 0;
  const below = [...top.keys()].sort((a, b) => b - a).slice(1, 6);
  const nextLevel = below.length === 0 ? 0 : below.reduce((sum, value) => sum + top.get(value)!, 0) / below.length;
  const isCrowded = atTop >= FEWEST_EQUAL && atTop > CROWDED * nextLevel;
  if (!isCrowded && !isCutFlat(stressMPa, highest, noiseMPa)) return undefined;
  const what = isCrowded
    ? `${atTop} samples stand at exactly ${highest.toPrecision(5)} MPa, the highest value`
    : `The stress stands at about ${highest.toPrecision(4)} MPa, its highest value, but for noise, and has a corner at either end`;
  return {
    code: "force-saturated",
    message: `${what}: the force seems cut off there. The true maximum may be higher.`,
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
function gaps(
  timeSeconds: Float64Array,
  curveRows: number,
  stressMPa: Float64Array,
  highestMPa: number,
): CurveDoubt | undefined {
  const intervals = new Float64Array(Math.max(0, timeSeconds.length - 1));
  for (let i = 0; i < intervals.length; i++) intervals[i] = timeSeconds[i + 1]! - timeSeconds[i]!;
  // A clock that is written coarsely stands still between samples: only where it moves does it tell an interval.
  const moving = intervals.filter((interval) => interval > 0);
  const typical = median(moving.length > 4000 ? moving.filter((_, i) => i % 16 === 0) : moving);
  let hidesHighest = false;
  let count = 0;
  let longest = 0;
  let backwards = 0;
  for (let i = 0; i < intervals.length; i++) {
    const interval = intervals[i]!;
    if (interval < 0) backwards++;
    if (!(interval > GAP * typical) || i === curveRows - 1) continue;
    const around = intervals
      .slice(Math.max(0, i - NEIGHBOURS), i + NEIGHBOURS + 1)
      .filter((other) => other > 0 && other !== interval);
    if (around.length > 0 && interval <= GAP * median(around)) continue;
    count++;
    if (interval > longest) longest = interval;
    // Where cells without a number were left out, samples and times no longer go together.
    const [before, after] = [stressMPa[i], stressMPa[i + 1]];
    const isPlaced = stressMPa.length === timeSeconds.length;
    if (!isPlaced || mayHideHighest(before!, after!, highestMPa)) hidesHighest = true;
  }
  if (count === 0 && backwards === 0) return undefined;
  const parts = [
    count > 0 ? `${count} ${count === 1 ? "gap" : "gaps"} of up to ${longest.toPrecision(3)} s between samples` : "",
    backwards > 0 ? `time running backwards ${backwards} times` : "",
  ].filter((part) => part !== "");
  return {
    code: "samples-missing",
    message: `The record has ${parts.join(" and ")} (usual interval ${typical.toPrecision(3)} s): samples are missing.`,
    affects: hidesHighest ? ["Rm", "Ag", "Agt"] : [],
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
