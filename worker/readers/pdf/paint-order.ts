import { canBeTold } from "../colours.js";

/** [left, top, right, bottom] in points from the top left of the page as shown. */
export type Bounds = readonly [left: number, top: number, right: number, bottom: number];

export interface Spot {
  readonly bounds: Bounds;
  /** "#rrggbb"; absent where it is a pattern, a picture or mixed with what lies below. */
  readonly colour: string | undefined;
}

export interface Surface extends Spot {
  /** Nothing below it shows. */
  readonly isOpaque: boolean;
}

const PAPER = "#ffffff";
/** Points. Surfaces are looked up by the strips of the page that they touch. */
const STRIP = 16;
const MOST_STRIPS = 400;

/**
 * What of a page's writing is to be seen, when surfaces are painted before and after it: a value painted over, and white writing on white
 * paper, stand in the file and not on the page that the inspector signed.
 */
export function createPaintOrder(height: number) {
  const strips = new Map<number, { surface: Surface; order: number }[]>();
  const stripOf = (y: number) => Math.floor(Math.min(Math.max(y, 0), height) / Math.max(STRIP, height / MOST_STRIPS));

  return {
    /** `order` is the number of characters painted before it. */
    paint(surface: Surface, order: number): void {
      const [left, top, right, bottom] = surface.bounds;
      if (!(right > left && bottom > top)) return;
      for (let strip = stripOf(top); strip <= stripOf(bottom); strip++) {
        const there = strips.get(strip);
        if (there) there.push({ surface, order });
        else strips.set(strip, [{ surface, order }]);
      }
    },

    /** Whether something opaque was painted over the middle of the spot, or it has the colour of what it stands on. */
    look({ bounds, colour }: Spot, order: number): "seen" | "painted over" | "unseen" {
      let below: Surface | undefined;
      for (const { surface, order: painted } of strips.get(stripOf((bounds[1] + bounds[3]) / 2)) ?? []) {
        if (!holdsMiddle(surface.bounds, bounds)) continue;
        if (painted <= order) below = surface;
        else if (surface.isOpaque) return "painted over";
      }
      const paper = below ? below.colour : PAPER;
      if (colour === undefined || paper === undefined) return "seen";
      return canBeTold(colour, paper) ? "seen" : "unseen";
    },
  };
}

/** Whether the middle of the one lies in the other, its edge included. */
export function holdsMiddle([left, top, right, bottom]: Bounds, [x1, y1, x2, y2]: Bounds): boolean {
  const [x, y] = [(x1 + x2) / 2, (y1 + y2) / 2];
  return x >= left && x <= right && y >= top && y <= bottom;
}

export function overlapOf(one: Bounds, other: Bounds): Bounds {
  return [
    Math.max(one[0], other[0]),
    Math.max(one[1], other[1]),
    Math.min(one[2], other[2]),
    Math.min(one[3], other[3]),
  ];
}
