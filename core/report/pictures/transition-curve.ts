import { axes, label, type Plot, plotIn } from "./axes.js";
import { line, lookOf, markers, verticalRule } from "./marks.js";
import { niceRange, place } from "./scale.js";
import { coordinate, element, group, picture, type Svg } from "./svg.js";

export interface TransitionPicture {
  readonly id: string;
  readonly subject: string;
  readonly points: readonly { readonly temperatureC: number; readonly value: number }[];
  /** Mean and 95 % band, at rising temperatures; absent where no curve could be fitted. */
  readonly curve?: readonly { readonly temperatureC: number; readonly value: number; readonly plusMinus: number }[];
  /** Marked where the curve reaches a value: T27J and T41J. */
  readonly reached?: readonly { readonly name: string; readonly temperatureC: number; readonly value: number }[];
  /** Said in the picture where there is no curve. */
  readonly refusal?: string;
  readonly serviceC?: number;
  readonly quantity?: string;
}

const [WIDTH, HEIGHT] = [720, 420];
const BOX = { left: 80, top: 30, width: 610, height: 310 };

/** Results against temperature with the fitted curve and its 95 % band, or with the reason why there is none. */
export function drawTransition(input: TransitionPicture): string {
  const { points, curve = [], reached = [], serviceC } = input;
  const temperatures = [
    ...points.map(({ temperatureC }) => temperatureC),
    ...(serviceC === undefined ? [] : [serviceC]),
  ];
  const values = [...points.map(({ value }) => value), ...curve.map(({ value, plusMinus }) => value + plusMinus)];
  const plot = plotIn(BOX, niceRange(temperatures), niceRange(values, 0));
  return picture(
    { id: input.id, title: `Transition: ${input.subject}`, description: describe(input), width: WIDTH, height: HEIGHT },
    band(plot, curve),
    axes(plot, "temperature, °C", input.quantity ?? "absorbed energy KV, J"),
    line(
      plot,
      curve.map(({ temperatureC }) => temperatureC),
      curve.map(({ value }) => value),
      { width: 2.2 },
    ),
    ...reached.map((mark) => reachedMark(plot, mark)),
    serviceC === undefined ? group() : serviceMark(plot, serviceC),
    markers(
      plot,
      points.map(({ temperatureC, value }) => [temperatureC, value]),
      { ...lookOf(0), filled: false },
    ),
    input.refusal === undefined ? group() : refusal(input.refusal),
    curve.length > 0
      ? label(
          BOX.left,
          HEIGHT - 10,
          "line: fitted mean; grey with dashed edge: 95 % band of the mean; circles: single pieces",
          { "font-size": 12 },
        )
      : group(),
  );
}

/** Grey with a dashed edge: the edge survives a bad copier, the grey shows where the band belongs. */
function band(plot: Plot, curve: TransitionPicture["curve"] = []): Svg {
  if (curve.length === 0) return group();
  const edge = (sign: 1 | -1) =>
    curve.map(({ temperatureC, value, plusMinus }) => {
      const inside = Math.min(plot.y.high, Math.max(plot.y.low, value + sign * plusMinus));
      return `${coordinate(place(plot.x, temperatureC))},${coordinate(place(plot.y, inside))}`;
    });
  const [upper, lower] = [edge(1), edge(-1)];
  const dashed = (points: readonly string[]) =>
    element("polyline", {
      points: points.join(" "),
      fill: "none",
      stroke: "#4a4f57",
      "stroke-dasharray": "5 3",
      "stroke-width": 1.2,
    });
  return group(
    element("polygon", { points: [...upper, ...lower.toReversed()].join(" "), fill: "#e3e6ea" }),
    dashed(upper),
    dashed(lower),
  );
}

function reachedMark(
  plot: Plot,
  mark: { readonly name: string; readonly temperatureC: number; readonly value: number },
): Svg {
  const [x, y] = [place(plot.x, mark.temperatureC), place(plot.y, mark.value)];
  const path = `M${coordinate(plot.x.start)} ${coordinate(y)} L${coordinate(x)} ${coordinate(y)} L${coordinate(x)} ${coordinate(plot.y.start)}`;
  const text = `${mark.name} ${mark.temperatureC.toFixed(0).replace("-", "−")} °C`;
  return group(
    element("path", { d: path, fill: "none", stroke: "#15181c", "stroke-dasharray": "2 3" }),
    label(plot.x.start + 8, y - 5, text, { "font-size": 12, "font-weight": 600 }),
  );
}

export function serviceMark(plot: Plot, serviceC: number): Svg {
  const x = place(plot.x, serviceC);
  const nearEnd = x > (plot.x.start + plot.x.end) / 2;
  return group(
    verticalRule(plot, serviceC, "12 3 2 3", 1.8),
    label(x + (nearEnd ? -7 : 7), plot.y.end + 16, `service ${String(serviceC).replace("-", "−")} °C`, {
      "text-anchor": nearEnd ? "end" : "start",
      "font-weight": 600,
    }),
  );
}

function refusal(text: string): Svg {
  return label(BOX.left + BOX.width / 2, HEIGHT - 10, text, {
    "text-anchor": "middle",
    "font-size": 12,
    "font-style": "italic",
  });
}

function describe({ points, curve, reached = [], refusal: because, serviceC }: TransitionPicture): string {
  const parts = [`${points.length} pieces against temperature.`];
  if (curve && curve.length > 0) parts.push("A tanh curve is fitted, with its 95 % band.");
  for (const { name, temperatureC } of reached) parts.push(`${name} is ${temperatureC.toFixed(1)} °C.`);
  if (because !== undefined) parts.push(`No curve: ${because}`);
  if (serviceC !== undefined) parts.push(`The service temperature ${serviceC} °C is marked.`);
  return parts.join(" ");
}
