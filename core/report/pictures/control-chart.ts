import { axes, label, plotIn } from "./axes.js";
import { horizontalRule, line, lookOf, marker } from "./marks.js";
import { niceRange, place } from "./scale.js";
import { group, picture } from "./svg.js";

export interface ControlPicture {
  readonly id: string;
  /** "carbon of 304L from Norrvik". */
  readonly subject: string;
  readonly unit: string;
  /** Heats in the order of their dates. */
  readonly heats: readonly { readonly name: string; readonly value: number; readonly signal: boolean }[];
  readonly mean: number;
  readonly lower: number;
  readonly upper: number;
  /** Bounds of the specification, which are not the control limits. */
  readonly min?: number;
  readonly max?: number;
}

const [WIDTH, HEIGHT] = [720, 400];
const BOX = { left: 80, top: 30, width: 560, height: 290 };

/** One value a heat in the order of time, between control limits; a signal is drawn larger and named. */
export function drawControlChart(input: ControlPicture): string {
  const { heats, mean, lower, upper, min, max } = input;
  const bounds = [min, max].filter((bound) => bound !== undefined);
  const range = niceRange([...heats.map(({ value }) => value), lower, upper, ...bounds]);
  const plot = plotIn(BOX, [0, heats.length + 1], range);
  const rule = (value: number, dash: string | undefined, name: string, width?: number) =>
    group(
      horizontalRule(plot, value, dash, width),
      label(plot.x.end + 6, place(plot.y, value) + 4, name, { "font-size": 12 }),
    );
  const numbers = heats.map((_, index) => index + 1);
  return picture(
    {
      id: input.id,
      title: `Heat by heat: ${input.subject}`,
      description: describe(input),
      width: WIDTH,
      height: HEIGHT,
    },
    axes(plot, "heat, in the order of time", input.unit),
    rule(mean, undefined, "mean", 1.2),
    rule(upper, "8 4", "upper"),
    rule(lower, "8 4", "lower"),
    ...bounds.map((bound) => rule(bound, "2 3", bound === max ? "maximum" : "minimum", 2.4)),
    line(
      plot,
      numbers,
      heats.map(({ value }) => value),
      { width: 1.2 },
    ),
    ...heats.map(({ name, value, signal }, index) => {
      const [x, y] = [place(plot.x, index + 1), place(plot.y, value)];
      const mark = marker(x, y, lookOf(signal ? 4 : 0), signal ? 6 : 4);
      return signal
        ? group(mark, label(x, y - 12, name, { "text-anchor": "middle", "font-size": 11, "font-weight": 600 }))
        : mark;
    }),
    label(
      BOX.left,
      HEIGHT - 12,
      "dashed: control limits from the moving range; dotted: limits of the specification; cross: signal",
      { "font-size": 12 },
    ),
  );
}

function describe({ heats, mean, lower, upper, unit }: ControlPicture): string {
  const signals = heats.filter(({ signal }) => signal).map(({ name }) => name);
  const said = signals.length === 0 ? "No heat gives a signal." : `Signals: ${signals.join(", ")}.`;
  const show = (value: number) => String(Number(value.toPrecision(4)));
  return `${heats.length} heats, mean ${show(mean)}, control limits ${show(lower)} to ${show(upper)} ${unit}. ${said}`;
}
