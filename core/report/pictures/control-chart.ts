import { axes, label, type Plot, plotIn } from "./axes.js";
import { horizontalRule, line, lookOf, marker } from "./marks.js";
import { niceRange, place } from "./scale.js";
import { group, picture, type Svg } from "./svg.js";

export interface ControlPicture {
  readonly id: string;
  /** "carbon of 304L from Norrvik". */
  readonly subject: string;
  readonly unit: string;
  /** Heats in the order of their dates. */
  readonly heats: readonly { readonly name: string; readonly value: number; readonly signal: boolean }[];
  /** Absent for too few heats. */
  readonly limits?: ControlLines;
  /** Bounds of the specification, which are not the control limits. */
  readonly min?: number;
  readonly max?: number;
}

interface ControlLines {
  readonly mean: number;
  readonly lower: number;
  readonly upper: number;
  /** Of the moving range, from one heat to the next. */
  readonly meanRange: number;
  readonly upperRange: number;
}

const [WIDTH, HEIGHT] = [720, 560];
const BOX = { left: 80, top: 30, width: 560, height: 290 };
const RANGE_BOX = { left: 80, top: 372, width: 560, height: 110 };

/** One value a heat in the order of time, between control limits, and below it the range from each heat to the next. */
export function drawControlChart(input: ControlPicture): string {
  return picture(
    {
      id: input.id,
      title: `Heat by heat: ${input.subject}`,
      description: describe(input),
      width: WIDTH,
      height: HEIGHT,
    },
    individuals(input),
    ranges(input),
    label(
      BOX.left,
      HEIGHT - 30,
      "dashed: control limits from the moving range; dotted: limits of the specification",
      SMALL,
    ),
    label(BOX.left, HEIGHT - 12, "cross with the heat's name: a signal", SMALL),
  );
}

const SMALL = { "font-size": 12 };

/** A signal is drawn as a cross and named. */
function individuals({ heats, limits, min, max, unit }: ControlPicture): Svg {
  const values = heats.map(({ value }) => value);
  const bounds = [min, max].filter((bound) => bound !== undefined);
  const plot = plotIn(
    BOX,
    [0, heats.length + 1],
    niceRange([...values, ...(limits ? [limits.lower, limits.upper] : []), ...bounds]),
  );
  return group(
    axes(plot, undefined, unit),
    ...(limits
      ? [
          rule(plot, limits.mean, undefined, "mean", 1.2),
          rule(plot, limits.upper, "8 4", "upper"),
          rule(plot, limits.lower, "8 4", "lower"),
        ]
      : []),
    ...bounds.map((bound) => rule(plot, bound, "2 3", bound === max ? "maximum" : "minimum", 2.4)),
    line(plot, positions(values), values, { width: 1.2 }),
    ...heats.map(({ name, value, signal }, index) => {
      const [x, y] = [place(plot.x, index + 1), place(plot.y, value)];
      const mark = marker(x, y, lookOf(signal ? 4 : 0), signal ? 6 : 4);
      return signal ? group(mark, label(x, y - 12, name, NAME)) : mark;
    }),
  );
}

const NAME = { "text-anchor": "middle", "font-size": 11, "font-weight": 600 };

function ranges({ heats, limits, unit }: ControlPicture): Svg {
  const moves = heats.slice(1).map(({ value }, index) => Math.abs(value - heats[index]!.value));
  const plot = plotIn(RANGE_BOX, [0, heats.length + 1], niceRange([...moves, limits?.upperRange ?? 0], 0));
  const at = moves.map((_, index) => index + 2);
  return group(
    axes(plot, undefined, `range, ${unit}`),
    ...(limits
      ? [rule(plot, limits.meanRange, undefined, "mean", 1.2), rule(plot, limits.upperRange, "8 4", "upper")]
      : []),
    line(plot, at, moves, { width: 1.2 }),
    ...moves.map((move, index) => marker(place(plot.x, at[index]!), place(plot.y, move), lookOf(0), 3)),
    label((plot.x.start + plot.x.end) / 2, plot.y.start + 20, "heat, in the order of time", {
      "text-anchor": "middle",
    }),
  );
}

function positions(values: readonly number[]): number[] {
  return values.map((_, index) => index + 1);
}

function rule(plot: Plot, value: number, dash: string | undefined, name: string, width?: number): Svg {
  return group(horizontalRule(plot, value, dash, width), label(plot.x.end + 6, place(plot.y, value) + 4, name, SMALL));
}

function describe({ heats, limits, unit }: ControlPicture): string {
  const signals = heats.filter(({ signal }) => signal).map(({ name }) => name);
  const said = signals.length === 0 ? "No heat gives a signal." : `Signals: ${signals.join(", ")}.`;
  if (!limits) return `${heats.length} heats, too few for control limits.`;
  const show = (value: number) => String(Number(value.toPrecision(4)));
  const between = `mean ${show(limits.mean)}, control limits ${show(limits.lower)} to ${show(limits.upper)} ${unit}`;
  return `${heats.length} heats, ${between}. ${said}`;
}
