/** Why a value is no chance: outside the limits, one of a long row on one side of the mean, or a jump from the one before. */
export type Signal = "beyond-limit" | "run" | "range";

/** Individuals chart: limits that a process keeps to by itself, and the values that it did not. */
export interface ControlLimits {
  readonly mean: number;
  readonly lower: number;
  readonly upper: number;
  /** Mean moving range of neighbours, and its upper limit. */
  readonly meanRange: number;
  readonly upperRange: number;
  /** By position: why a value is a signal. */
  readonly signals: readonly { readonly index: number; readonly because: Signal }[];
}

/** 3 / d2 with d2 = 1.128 for ranges of two, and D4 = 3.267: the constants of every control chart textbook. */
const LIMIT_FACTOR = 2.66;
const RANGE_FACTOR = 3.267;
/** So many in a row on one side of the mean are no chance (Western Electric's fourth rule). */
const RUN_LENGTH = 8;
/** With fewer values limits mean nothing. */
export const FEWEST_VALUES = 8;

/**
 * Control limits of single values in the order of time, from the moving range: individuals and moving range chart. `base` values
 * at the start set the limits, so that a drift does not widen them; all of them where it is left out. Undefined for too few.
 */
export function controlLimits(values: readonly number[], base: number = values.length): ControlLimits | undefined {
  const settled = values.slice(0, base);
  if (settled.length < FEWEST_VALUES) return undefined;
  const mean = average(settled);
  const meanRange = average(settled.slice(1).map((value, i) => Math.abs(value - settled[i]!)));
  const [lower, upper] = [mean - LIMIT_FACTOR * meanRange, mean + LIMIT_FACTOR * meanRange];
  const upperRange = RANGE_FACTOR * meanRange;

  const signals: { index: number; because: Signal }[] = [];
  let run = 0;
  for (const [index, value] of values.entries()) {
    const side = Math.sign(value - mean);
    run = side !== 0 && side === Math.sign(run) ? run + side : side;
    if (value < lower || value > upper) signals.push({ index, because: "beyond-limit" });
    else if (index > 0 && Math.abs(value - values[index - 1]!) > upperRange) signals.push({ index, because: "range" });
    else if (Math.abs(run) >= RUN_LENGTH) signals.push({ index, because: "run" });
  }
  return { mean, lower, upper, meanRange, upperRange, signals };
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
