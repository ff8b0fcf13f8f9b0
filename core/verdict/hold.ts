import { compare, type Decimal, subtract } from "../quantity/decimal.js";
import type { Interval } from "../quantity/interval.js";
import { type Rounding, roundedBy } from "../quantity/rounding.js";

export interface Bounds {
  /** Both inclusive; the places of each are the places as printed. */
  readonly min?: Decimal;
  readonly max?: Decimal;
}

export interface Held {
  /** open: the value is known only as a range, part of which is inside. */
  readonly outcome: "pass" | "fail" | "open";
  /** The value compared with the nearer bound, rounded where the method rounds. */
  readonly judged: Decimal;
  /** Distance of `judged` to that bound; negative is outside. */
  readonly margin: Decimal;
  /** Which bound `judged` was compared with. */
  readonly side: "min" | "max";
}

/** Holds a value, or what is known of it, against inclusive bounds. At least one bound and one end must be given. */
export function hold(value: Interval, bounds: Bounds, rounding: Rounding): Held {
  const sides: Side[] = [];
  if (bounds.min) sides.push(sideOf("min", bounds.min, value, rounding));
  if (bounds.max) sides.push(sideOf("max", bounds.max, value, rounding));
  const failed = sides.find((side) => side.certainlyOutside);
  if (failed) return { outcome: "fail", ...failed.shown };

  const open = sides.find((side) => !side.certainlyInside);
  if (open) return { outcome: "open", ...open.shown };

  const nearest = sides.reduce((left, right) => (compare(right.shown.margin, left.shown.margin) < 0 ? right : left));
  return { outcome: "pass", ...nearest.shown };
}

interface Side {
  readonly certainlyInside: boolean;
  readonly certainlyOutside: boolean;
  readonly shown: Pick<Held, "judged" | "margin" | "side">;
}

/** The bound looks at the end of the value nearest to crossing it, and at the far end to be sure that all of it is outside. */
function sideOf(side: "min" | "max", bound: Decimal, value: Interval, rounding: Rounding): Side {
  const near = side === "min" ? value.low : value.high;
  const far = side === "min" ? value.high : value.low;
  const marginOf = (end: Decimal) => {
    const judged = roundedBy(rounding, end, bound.places);
    return { judged, margin: side === "min" ? subtract(judged, bound) : subtract(bound, judged), side };
  };
  const nearShown = near && marginOf(near);
  const farShown = far === near ? nearShown : far && marginOf(far);
  const certainlyOutside = farShown !== undefined && farShown.margin.digits < 0n;
  const shown = certainlyOutside ? farShown : (nearShown ?? farShown);
  if (!shown) throw new Error("nothing is known of the value: neither end is given");
  return { certainlyInside: nearShown !== undefined && nearShown.margin.digits >= 0n, certainlyOutside, shown };
}
