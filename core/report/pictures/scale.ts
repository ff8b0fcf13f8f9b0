/** A straight axis: values from `low` to `high` on positions from `start` to `end`. */
export interface Scale {
  readonly low: number;
  readonly high: number;
  readonly start: number;
  readonly end: number;
}

export function place(scale: Scale, value: number): number {
  return scale.start + ((value - scale.low) / (scale.high - scale.low)) * (scale.end - scale.start);
}

/** About as many numbers as an axis of our pictures has room for. */
const TICKS = 6;

/** Round numbers across a range: 1, 2 or 5 times a power of ten apart. */
export function ticksOf(low: number, high: number): number[] {
  const step = stepOf(low, high);
  const ticks: number[] = [];
  for (let i = Math.ceil(low / step - 1e-9); i * step <= high + step * 1e-9; i++)
    ticks.push(Number((i * step).toPrecision(12)));
  return ticks;
}

function stepOf(low: number, high: number): number {
  const rough = (high - low) / TICKS;
  const power = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((multiple) => multiple * power).find((candidate) => candidate >= rough * 0.999)!;
}

/** A range with room around it, both of whose ends are ticks; `from` keeps an axis that should begin at a certain value. */
export function niceRange(values: readonly number[], from?: number): readonly [number, number] {
  const finite = values.filter(Number.isFinite);
  if (finite.length === 0) return [from ?? 0, (from ?? 0) + 1];
  const least = Math.min(...finite, from ?? Number.POSITIVE_INFINITY);
  const most = Math.max(...finite, from ?? Number.NEGATIVE_INFINITY);
  const room = most > least ? 0.03 * (most - least) : Math.max(0.5, Math.abs(most) * 0.05);
  const [lowest, highest] = [from !== undefined && least >= from ? from : least - room, most + room];
  // Going out to whole steps makes the range wider, which may ask for wider steps once more.
  const step = stepOf(...outTo(stepOf(lowest, highest), lowest, highest));
  return outTo(stepOf(...outTo(step, lowest, highest)), lowest, highest);
}

function outTo(step: number, low: number, high: number): [number, number] {
  return [Math.floor(low / step + 1e-9) * step, Math.ceil(high / step - 1e-9) * step];
}

/** As few digits as tell the ticks apart. */
export function tickLabel(value: number): string {
  return String(Number(value.toPrecision(10))).replace("-", "−");
}
