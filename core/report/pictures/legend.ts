import { label } from "./axes.js";
import { marker, type SeriesLook } from "./marks.js";
import { element, group, type Svg } from "./svg.js";

/** A line of series with their markers and dashes, names beside them; wraps at `width`. */
export function seriesLegend(
  left: number,
  top: number,
  width: number,
  series: readonly { readonly name: string; readonly look: SeriesLook; readonly lined?: boolean }[],
): Svg {
  const items: Svg[] = [];
  let [x, y] = [left, top];
  for (const { name, look, lined } of series) {
    const wide = 52 + 7.2 * name.length;
    if (x > left && x + wide > left + width) [x, y] = [left, y + 20];
    if (lined) {
      const stroke = { stroke: look.colour, "stroke-width": 1.6, "stroke-dasharray": look.dash };
      items.push(element("line", { x1: x, x2: x + 30, y1: y - 4, y2: y - 4, ...stroke }));
    }
    items.push(marker(x + 15, y - 4, look), label(x + 38, y, name, { "font-size": 12 }));
    x += wide + 14;
  }
  return group(...items);
}
