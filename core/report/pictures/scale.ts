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

/** Round numbers across a range, about as many as wanted: 1, 2 or 5 times a power of ten apart. */
export function ticksOf(low: number, high: number, wanted = 6): number[] {
  const rough = (high - low) / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((multiple) => multiple * power).find((candidate) => candidate >= rough * 0.999)!;
  const ticks: number[] = [];
  for (let i = Math.ceil(low / step - 1e-9); i * step <= high + step * 1e-9; i++)
    ticks.push(Number((i * step).toPrecision(12)));
  return ticks;
}

/** A range with room around it, ending on round numbers; `from` keeps an axis that should begin at a certain value. */
export function niceRange(values: readonly number[], from?: number): readonly [number, number] {
  const finite = values.filter(Number.isFinite);
  const least = Math.min(...finite, from ?? Number.POSITIVE_INFINITY);
  const most = Math.max(...finite, from ?? Number.NEGATIVE_INFINITY);
  const spread = most > least ? most - least : Math.max(1, Math.abs(most) * 0.1);
  const ticks = ticksOf(least - 0.04 * spread, most + 0.06 * spread, 10);
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : spread;
  const low = from !== undefined && least >= from ? from : Math.floor((least - 0.03 * spread) / step) * step;
  return [low, Math.ceil((most + 0.03 * spread) / step) * step];
}

/** As few digits as tell the ticks apart. */
export function tickLabel(value: number): string {
  return String(Number(value.toPrecision(10))).replace("-", "−");
}
