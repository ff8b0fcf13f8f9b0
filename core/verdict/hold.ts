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
export function hold(value: Interval, { min, max }: Bounds, rounding: Rounding): Held {
  const below = min && holdTo("min", min, value, rounding);
  const above = max && holdTo("max", max, value, rounding);
  if (below && above) return worseOf(below, above);
  const held = below ?? above;
  if (!held) throw new Error("there is nothing to hold the value to: neither bound is given");
  return held;
}

/** One bound that is surely crossed decides, else one that may be; inside both, the nearer one is shown. */
function worseOf(below: Held, above: Held): Held {
  for (const outcome of ["fail", "open"]) {
    if (below.outcome === outcome) return below;
    if (above.outcome === outcome) return above;
  }
  return compare(above.margin, below.margin) < 0 ? above : below;
}

/** The bound looks at the end of the value nearest to crossing it, and at the far end to be sure that all of it is outside. */
function holdTo(side: "min" | "max", bound: Decimal, { low, high }: Interval, rounding: Rounding): Held {
  const near = side === "min" ? low : high;
  const far = side === "min" ? high : low;
  if (far) {
    const judged = roundedBy(rounding, far, bound.places);
    const margin = marginOf(side, bound, judged);
    if (margin.digits < 0n) return { outcome: "fail", judged, margin, side };
    if (near === far) return { outcome: "pass", judged, margin, side };
  }
  const shown = near ?? far;
  if (!shown) throw new Error("nothing is known of the value: neither end is given");
  const judged = roundedBy(rounding, shown, bound.places);
  const margin = marginOf(side, bound, judged);
  return { outcome: near && margin.digits >= 0n ? "pass" : "open", judged, margin, side };
}

function marginOf(side: "min" | "max", bound: Decimal, judged: Decimal): Decimal {
  return side === "min" ? subtract(judged, bound) : subtract(bound, judged);
}
