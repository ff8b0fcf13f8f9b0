import type { Plot } from "./axes.js";
import { place } from "./scale.js";
import { coordinate, element, group, type Svg } from "./svg.js";

/** Series are told apart by marker and dash first, so that a greyscale print loses nothing; the shades only help. */
export interface SeriesLook {
  readonly marker: Marker;
  readonly dash: string | undefined;
  readonly colour: string;
  readonly filled: boolean;
}

export type Marker = "circle" | "square" | "triangle" | "diamond" | "cross" | "downward";

const LOOKS: readonly SeriesLook[] = [
  { marker: "circle", dash: undefined, colour: "#15181c", filled: true },
  { marker: "square", dash: "8 4", colour: "#0b3f8a", filled: false },
  { marker: "triangle", dash: "2 3", colour: "#8a3b00", filled: true },
  { marker: "diamond", dash: "10 3 2 3", colour: "#14592b", filled: false },
  { marker: "cross", dash: "4 2", colour: "#5b2a86", filled: true },
  { marker: "downward", dash: "1 2", colour: "#4a4f57", filled: false },
];

export function lookOf(index: number): SeriesLook {
  return LOOKS[index % LOOKS.length]!;
}

/** Most points of one drawn line: two for every unit of width show as much as a hundred thousand. */
const MOST_POINTS = 1600;

/** A line through points in their order. Long ones are thinned to the least and highest of each stretch, so that no peak is lost. */
export function line(
  plot: Plot,
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  look: Partial<SeriesLook> & { readonly width?: number },
): Svg {
  const points = thinned(x, y).map((i) => `${coordinate(place(plot.x, x[i]!))},${coordinate(place(plot.y, y[i]!))}`);
  return element("polyline", {
    points: points.join(" "),
    fill: "none",
    stroke: look.colour ?? "#15181c",
    "stroke-width": look.width ?? 1.6,
    "stroke-dasharray": look.dash,
    "stroke-linejoin": "round",
  });
}

function thinned(x: ArrayLike<number>, y: ArrayLike<number>): number[] {
  if (x.length <= MOST_POINTS) return Array.from({ length: x.length }, (_, i) => i);
  const stretch = Math.ceil((2 * x.length) / MOST_POINTS);
  const kept: number[] = [];
  for (let from = 0; from < x.length; from += stretch) {
    let [least, most] = [from, from];
    for (let i = from; i < Math.min(from + stretch, x.length); i++) {
      if (y[i]! < y[least]!) least = i;
      if (y[i]! > y[most]!) most = i;
    }
    kept.push(...(least === most ? [least] : [Math.min(least, most), Math.max(least, most)]));
  }
  if (kept.at(-1) !== x.length - 1) kept.push(x.length - 1);
  return kept;
}

const SIZE = 4.6;

export function marker(xAt: number, yAt: number, { marker: shape, colour, filled }: SeriesLook, size = SIZE): Svg {
  const look = { fill: filled ? colour : "#fff", stroke: colour, "stroke-width": 1.6 };
  const path = (d: string) => element("path", { d, ...look });
  const at = (dx: number, dy: number) => `${coordinate(xAt + dx * size)} ${coordinate(yAt + dy * size)}`;
  switch (shape) {
    case "circle":
      return element("circle", { cx: xAt, cy: yAt, r: size, ...look });
    case "square":
      return element("rect", { x: xAt - size, y: yAt - size, width: 2 * size, height: 2 * size, ...look });
    case "triangle":
      return path(`M${at(0, -1.2)} L${at(1.15, 0.9)} L${at(-1.15, 0.9)} Z`);
    case "downward":
      return path(`M${at(0, 1.2)} L${at(1.15, -0.9)} L${at(-1.15, -0.9)} Z`);
    case "diamond":
      return path(`M${at(0, -1.35)} L${at(1.2, 0)} L${at(0, 1.35)} L${at(-1.2, 0)} Z`);
    case "cross":
      return group(
        element("path", {
          d: `M${at(-1, -1)} L${at(1, 1)} M${at(-1, 1)} L${at(1, -1)}`,
          stroke: colour,
          "stroke-width": 2.2,
          fill: "none",
        }),
      );
  }
}

export function markers(plot: Plot, points: readonly (readonly [number, number])[], look: SeriesLook): Svg {
  return group(...points.map(([x, y]) => marker(place(plot.x, x), place(plot.y, y), look)));
}

/** A straight line across the whole plot: a limit, a service temperature. */
export function horizontalRule(plot: Plot, value: number, dash: string | undefined, width = 1.8): Svg {
  const y = place(plot.y, value);
  return element("line", {
    x1: plot.x.start,
    x2: plot.x.end,
    y1: y,
    y2: y,
    stroke: "#15181c",
    "stroke-width": width,
    "stroke-dasharray": dash,
  });
}

export function verticalRule(plot: Plot, value: number, dash: string | undefined, width = 1.4): Svg {
  const x = place(plot.x, value);
  return element("line", {
    x1: x,
    x2: x,
    y1: plot.y.start,
    y2: plot.y.end,
    stroke: "#15181c",
    "stroke-width": width,
    "stroke-dasharray": dash,
  });
}
