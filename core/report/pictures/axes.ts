import { place, type Scale, tickLabel, ticksOf } from "./scale.js";
import { element, group, type Svg, words } from "./svg.js";

/** The place of a drawing inside a picture, with both its axes. */
export interface Plot {
  readonly x: Scale;
  readonly y: Scale;
}

export interface PlotBox {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export function plotIn(box: PlotBox, xRange: readonly [number, number], yRange: readonly [number, number]): Plot {
  return {
    x: { low: xRange[0], high: xRange[1], start: box.left, end: box.left + box.width },
    y: { low: yRange[0], high: yRange[1], start: box.top + box.height, end: box.top },
  };
}

const GRID = "#d5d9de";
const AXIS = "#3d434b";

/** Frame, light grid, tick labels and the names of both axes. Without a name the lower axis has no numbers: its places have words. */
export function axes(plot: Plot, xName: string | undefined, yName: string): Svg {
  const { x, y } = plot;
  const vertical = xName === undefined ? [] : ticksOf(x.low, x.high);
  const horizontal = ticksOf(y.low, y.high);
  const longest = Math.max(2, ...horizontal.map((tick) => tickLabel(tick).length));
  return group(
    ...vertical.map((tick) => xTick(plot, tick)),
    ...horizontal.map((tick) => yTick(plot, tick)),
    element("rect", {
      x: x.start,
      y: y.end,
      width: x.end - x.start,
      height: y.start - y.end,
      fill: "none",
      stroke: AXIS,
    }),
    label((x.start + x.end) / 2, y.start + 38, xName ?? "", { "text-anchor": "middle" }),
    label(0, 0, yName, {
      "text-anchor": "middle",
      transform: `translate(${Math.round(x.start - 18 - 7 * longest)} ${Math.round((y.start + y.end) / 2)}) rotate(-90)`,
    }),
  );
}

function xTick({ x, y }: Plot, tick: number): Svg {
  const at = place(x, tick);
  return group(
    element("line", { x1: at, x2: at, y1: y.start, y2: y.end, stroke: GRID }),
    label(at, y.start + 18, tickLabel(tick), { "text-anchor": "middle", "font-size": 12 }),
  );
}

function yTick({ x, y }: Plot, tick: number): Svg {
  const at = place(y, tick);
  return group(
    element("line", { x1: x.start, x2: x.end, y1: at, y2: at, stroke: GRID }),
    label(x.start - 7, at + 4, tickLabel(tick), { "text-anchor": "end", "font-size": 12 }),
  );
}

/** Text with a white edge, so that it can be read across lines. */
export function label(x: number, y: number, text: string, more: Readonly<Record<string, string | number>> = {}): Svg {
  return element(
    "text",
    { x, y, "paint-order": "stroke", stroke: "#fff", "stroke-width": 3, "stroke-linejoin": "round", ...more },
    words(text),
  );
}
