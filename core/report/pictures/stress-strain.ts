import { axes, label, type Plot, plotIn } from "./axes.js";
import { line, lookOf, marker } from "./marks.js";
import { niceRange, place } from "./scale.js";
import { element, group, picture, type Svg } from "./svg.js";

/** Plain numbers of one reduced curve. Strain as a ratio, stress in MPa. */
export interface StressStrainPicture {
  readonly id: string;
  /** "Heat H4471, piece T-1, weld". */
  readonly subject: string;
  readonly strain: ArrayLike<number>;
  readonly stressMPa: ArrayLike<number>;
  readonly elastic?: {
    readonly slopeMPa: number;
    readonly zeroStrain: number;
    readonly fromMPa: number;
    readonly toMPa: number;
  };
  readonly proofMPa?: number;
  readonly upperYieldMPa?: number;
  readonly strengthMPa?: number;
}

const [WIDTH, HEIGHT] = [920, 416];
const START = { left: 70, top: 44, width: 370, height: 290 };
const WHOLE = { left: 530, top: 44, width: 370, height: 290 };

/** Two views of one curve: its start, with slope and 0.2 % line, and the whole of it with Rm. */
export function drawStressStrain(input: StressStrainPicture): string {
  const { strain, stressMPa, subject } = input;
  const startEnd = startRange(input);
  const shownMPa = highestUntil(strain, stressMPa, startEnd);
  const start = plotIn(START, [0, 100 * startEnd], [0, niceRange([shownMPa], 0)[1]]);
  const percent = Float64Array.from(
    { length: strain.length },
    (_, i) => 100 * (strain[i]! - (input.elastic?.zeroStrain ?? 0)),
  );
  const whole = plotIn(
    WHOLE,
    niceRange([...extremes(percent)], 0),
    niceRange([input.strengthMPa ?? 0, ...extremes(stressMPa)], 0),
  );
  return picture(
    {
      id: input.id,
      title: `Stress and strain: ${subject}`,
      description: describe(input),
      width: WIDTH,
      height: HEIGHT,
    },
    label(START.left, 28, "Start of the curve", { "font-weight": 600 }),
    axes(start, "strain from the zero of the slope, %", "stress, MPa"),
    clipped(start, `${input.id}-start`, elasticLines(start, input), line(start, percent, stressMPa, { width: 2 })),
    proofMark(start, input),
    label(WHOLE.left, 28, "Whole curve", { "font-weight": 600 }),
    axes(whole, "strain from the zero of the slope, %", "stress, MPa"),
    clipped(whole, `${input.id}-whole`, line(whole, percent, stressMPa, { width: 2 })),
    strengthMark(whole, input, percent),
    legend(input),
  );
}

function describe({ elastic, proofMPa, upperYieldMPa, strengthMPa }: StressStrainPicture): string {
  const parts = [
    elastic &&
      `elastic slope ${(elastic.slopeMPa / 1000).toFixed(1)} GPa between ${elastic.fromMPa.toFixed(0)} and ${elastic.toMPa.toFixed(0)} MPa`,
    upperYieldMPa !== undefined && `upper yield stress ReH ${upperYieldMPa.toFixed(0)} MPa`,
    proofMPa !== undefined &&
      `proof strength Rp0.2 ${proofMPa.toFixed(0)} MPa where the curve crosses the line offset by 0.2 %`,
    strengthMPa !== undefined && `tensile strength Rm ${strengthMPa.toFixed(0)} MPa`,
  ].filter(Boolean);
  return parts.length === 0
    ? "Stress over strain; nothing was reduced."
    : `Stress over strain with ${parts.join("; ")}.`;
}

/** Far enough to show the crossing: about twice the strain at Rp0.2, and never less than 0.5 %. */
function startRange({ elastic, proofMPa }: StressStrainPicture): number {
  if (!elastic || proofMPa === undefined) return 0.01;
  return Math.max(0.005, Math.ceil((2 * (proofMPa / elastic.slopeMPa + 0.002)) / 0.002) * 0.002);
}

function highestUntil(strain: ArrayLike<number>, stressMPa: ArrayLike<number>, end: number): number {
  let most = 1;
  for (let i = 0; i < strain.length && strain[i]! <= end; i++) if (stressMPa[i]! > most) most = stressMPa[i]!;
  return most;
}

function extremes(values: ArrayLike<number>): [number, number] {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < values.length; i++) {
    if (values[i]! < least) least = values[i]!;
    if (values[i]! > most) most = values[i]!;
  }
  // Noise about zero is no reason for a negative half of the axis.
  return [least < -0.05 * most ? least : 0, most];
}

/** Wide and light, under the curve: the stretch that the slope was fitted to. */
const BAND = "#b9c4d4";

function elasticLines(plot: Plot, { elastic }: StressStrainPicture): Svg {
  if (!elastic) return group();
  const top = plot.y.high;
  const rise = (100 * top) / elastic.slopeMPa;
  const window = [elastic.fromMPa, elastic.toMPa];
  const windowStrain = window.map((stress) => (100 * stress) / elastic.slopeMPa);
  return group(
    line(plot, [0, rise], [0, top], { dash: "2 3", width: 1.4 }),
    line(plot, windowStrain, window, { colour: BAND, width: 12 }),
    line(plot, [0.2, 0.2 + rise], [0, top], { dash: "9 4", width: 1.6 }),
  );
}

function proofMark(plot: Plot, { elastic, proofMPa, upperYieldMPa }: StressStrainPicture): Svg {
  if (!elastic || proofMPa === undefined) return group();
  const strain = (100 * proofMPa) / elastic.slopeMPa + 0.2;
  const [x, y] = [place(plot.x, strain), place(plot.y, proofMPa)];
  const text =
    upperYieldMPa === undefined
      ? `Rp0.2 ${proofMPa.toFixed(0)} MPa`
      : `Rp0.2 ${proofMPa.toFixed(0)}, ReH ${upperYieldMPa.toFixed(0)} MPa`;
  return group(
    marker(x, y, { ...lookOf(0), filled: false }, 5.5),
    label(Math.min(x + 12, plot.x.end - 8 * text.length), y + 30, text, { "font-weight": 600 }),
  );
}

function strengthMark(plot: Plot, { strengthMPa, stressMPa }: StressStrainPicture, percent: Float64Array): Svg {
  if (strengthMPa === undefined) return group();
  let at = 0;
  for (let i = 1; i < stressMPa.length; i++)
    if (Math.abs(stressMPa[i]! - strengthMPa) < Math.abs(stressMPa[at]! - strengthMPa)) at = i;
  const y = place(plot.y, strengthMPa);
  const inside = Math.abs(stressMPa[at]! - strengthMPa) < 0.01 * strengthMPa;
  const x = place(plot.x, inside ? percent[at]! : plot.x.high);
  const dash = element("line", { x1: plot.x.start, x2: x, y1: y, y2: y, stroke: "#15181c", "stroke-dasharray": "6 4" });
  const text = `Rm ${strengthMPa.toFixed(0)} MPa${inside ? "" : " (extensometer already off)"}`;
  return group(
    dash,
    inside ? marker(x, y, lookOf(3), 5) : group(),
    label(plot.x.start + 10, y - 8, text, { "font-weight": 600 }),
  );
}

function clipped(plot: Plot, id: string, ...children: readonly Svg[]): Svg {
  const { x, y } = plot;
  const box = element("rect", { x: x.start, y: y.end, width: x.end - x.start, height: y.start - y.end });
  return group(element("clipPath", { id }, box), element("g", { "clip-path": `url(#${id})` }, ...children));
}

function legend({ elastic }: StressStrainPicture): Svg {
  if (!elastic) return group();
  const y = HEIGHT - 12;
  const item = (x: number, text: string, ...strokes: readonly Readonly<Record<string, string | number>>[]) =>
    group(
      ...strokes.map((stroke) => element("line", { x1: x, x2: x + 34, y1: y - 4, y2: y - 4, ...stroke })),
      label(x + 42, y, text, { "font-size": 12 }),
    );
  return group(
    item(70, `slope ${(elastic.slopeMPa / 1000).toFixed(1)} GPa`, {
      stroke: "#15181c",
      "stroke-dasharray": "2 3",
      "stroke-width": 1.4,
    }),
    item(250, "window of the slope", { stroke: BAND, "stroke-width": 12 }),
    item(440, "parallel at 0.2 %", { stroke: "#15181c", "stroke-dasharray": "9 4", "stroke-width": 1.6 }),
  );
}
