import { median } from "../statistics/median.js";
import { type CurveDoubt, EVERYTHING, STRESSES } from "./curve-doubt.js";

/** What can be seen wrong with the force alone: its sign, its zero, a sample that stands out at the top. */
export function loadDoubts(
  stressMPa: Float64Array,
  highestMPa: number,
  proofMPa: number | undefined,
  noiseMPa: number,
): CurveDoubt[] {
  if (stressMPa.length === 0) return [];
  const first = stressMPa
    .subarray(0, FIRST_SAMPLES)
    .reduce((least, value) => (Math.abs(value) < Math.abs(least) ? value : least));
  return [
    negative(stressMPa, highestMPa),
    startsLoaded(first, proofMPa ?? highestMPa / 2, noiseMPa),
    zeroAfterBreak(stressMPa, highestMPa),
    spikeAtTop(stressMPa, noiseMPa),
  ].filter((doubt) => doubt !== undefined);
}

function negative(stressMPa: Float64Array, highestMPa: number): CurveDoubt | undefined {
  const lowest = stressMPa.reduce((least, value) => Math.min(least, value), 0);
  if (-lowest <= highestMPa) return undefined;
  const message =
    "The forces are negative: a compression test, or a machine that writes tension with a minus. Nothing was turned round; " +
    "write tension as positive.";
  return { code: "force-negative", message, affects: EVERYTHING };
}

const FIRST_SAMPLES = 3;
/** ISO 6892-1:2019, 8.3: a preload is at most 5 % of the expected yield strength. */
const PRELOAD_SHARE = 0.05;

function startsLoaded(startMPa: number, proofMPa: number, noiseMPa: number): CurveDoubt | undefined {
  if (Math.abs(startMPa) <= PRELOAD_SHARE * proofMPa + 3 * noiseMPa) return undefined;
  const message =
    `The record starts at ${startMPa.toPrecision(3)} MPa, ${((100 * startMPa) / proofMPa).toFixed(0)} % of the yield strength ` +
    "(ISO 6892-1 allows a preload of 5 %): its start is missing, or the force was not set to zero and every stress is off by as much.";
  return { code: "force-at-start", message, affects: STRESSES };
}

/** Below this share of the highest stress a piece is broken. */
const BROKEN_SHARE = 0.2;
const FEWEST_AFTER_BREAK = 5;
/** A force channel may be off by this much of Rm (class 1, ISO 7500-1). */
const ZERO_SHARE = 0.01;

/** After a break there is no force: what is still shown is the zero of the channel. */
function zeroAfterBreak(stressMPa: Float64Array, highestMPa: number): CurveDoubt | undefined {
  let from = stressMPa.length;
  while (from > 0 && Math.abs(stressMPa[from - 1]!) < BROKEN_SHARE * highestMPa) from--;
  if (from === 0 || stressMPa.length - from < FEWEST_AFTER_BREAK) return undefined;
  const last = stressMPa.subarray(-FEWEST_AFTER_BREAK);
  const restMPa = median(last);
  const isSettled = last.every((value) => Math.abs(value - restMPa) < ZERO_SHARE * highestMPa);
  if (!isSettled || Math.abs(restMPa) <= ZERO_SHARE * highestMPa) return undefined;
  const message =
    `After the break the force still shows ${restMPa.toPrecision(3)} MPa: its zero is off, and with it every stress. ` +
    "It was not taken off.";
  return { code: "force-zero", message, affects: STRESSES };
}

/** A spike lasts at most so many samples, of which the median of twice as many on either side takes no notice. */
const SPIKE_SAMPLES = 3;
const SPIKE_SHARE = 0.004;

/** Samples at the very top that stand out from neighbours which agree with each other: a jolt or a number misread. */
function spikeAtTop(stressMPa: Float64Array, noiseMPa: number): CurveDoubt | undefined {
  let top = 0;
  for (let i = 1; i < stressMPa.length; i++) if (stressMPa[i]! > stressMPa[top]!) top = i;
  const reach = 3 * SPIKE_SAMPLES;
  const before = stressMPa.subarray(Math.max(0, top - reach), Math.max(0, top - SPIKE_SAMPLES + 1));
  const after = stressMPa.subarray(top + SPIKE_SAMPLES, top + reach + 1);
  if (before.length < SPIKE_SAMPLES || after.length < SPIKE_SAMPLES) return undefined;
  const [left, right] = [median(before), median(after)];
  const height = stressMPa[top]! - Math.max(left, right);
  const isLarge = height > Math.max(8 * noiseMPa, SPIKE_SHARE * stressMPa[top]!);
  // Few samples over a round top lie apart as well, but not on one level on either side of it.
  const isLevel = Math.abs(left - right) <= 0.3 * height && height > 2 * Math.max(spread(before), spread(after));
  if (!isLarge || !isLevel) return undefined;
  const message =
    `The highest stress ${stressMPa[top]!.toPrecision(5)} MPa stands ${height.toPrecision(2)} MPa above the samples around it: ` +
    "a jolt or a number misread. Without it the record would reach about " +
    `${Math.max(left, right).toPrecision(5)} MPa there.`;
  return { code: "force-spike", message, affects: ["Rm", "Ag", "Agt"] };
}

function spread(values: Float64Array): number {
  return Math.max(...values) - Math.min(...values);
}
