import type { Place } from "../../core/certificate/evidence.js";
import { type Area, areaOf, type Rendered, type Spot } from "./render/rendered.js";

/** The cell that a reader's place lies on: the one that shares the most of its area. */
export function spotAt(rendered: Rendered, place: Place): Spot | undefined {
  const area = toPlane(rendered, place);
  if (!area) return undefined;
  let best: Spot | undefined;
  let most = 0;
  for (const spot of rendered.spots) {
    const share = shared(spot.area, area);
    if (share > most) [best, most] = [spot, share];
  }
  return best;
}

/** Whether a doubt's place is that of the value, or of what says what the value is: something of its row, a title of its column. */
export function speaksOf(rendered: Rendered, place: Place, value: Spot): boolean {
  const seen = spotAt(rendered, place);
  const area = toPlane(rendered, place);
  if (!seen || !area || seen.table !== value.table || area.page !== value.area.page) return false;
  if (seen.cell === value.cell || overlap(area, value.area, "top", "bottom") > 0.5) return true;
  // Another result in the same column is no title of it.
  return seen.cell.truths.length === 0 && overlap(area, value.area, "left", "right") > 0.3;
}

function toPlane({ toPlane: bring }: Rendered, place: Place): Area | undefined {
  const area = areaOf(place);
  return area && bring ? bring(area) : area;
}

function shared(left: Area, right: Area): number {
  if (left.page !== right.page) return 0;
  const across = Math.min(left.right, right.right) - Math.max(left.left, right.left);
  const down = Math.min(left.bottom, right.bottom) - Math.max(left.top, right.top);
  return across > 0 && down > 0 ? across * down : 0;
}

/** As a share of the smaller of the two. */
function overlap(left: Area, right: Area, from: "left" | "top", to: "right" | "bottom"): number {
  const common = Math.min(left[to], right[to]) - Math.max(left[from], right[from]);
  return common / Math.max(0.001, Math.min(left[to] - left[from], right[to] - right[from]));
}
