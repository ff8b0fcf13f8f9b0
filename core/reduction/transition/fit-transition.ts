import { type CurveFit, fitCurve } from "../statistics/fit-curve.js";
import { fitLine } from "../statistics/line-fit.js";
import { median } from "../statistics/median.js";
import { curveFrom, type HeldShelves, type TanhCurve, tanhModel } from "./tanh-model.js";

/** One test piece: its value (J, mm or percent shear) at its temperature. */
export interface TransitionPoint {
  readonly temperatureC: number;
  readonly value: number;
}

export interface TransitionFit {
  readonly curve: TanhCurve;
  readonly held: HeldShelves;
  readonly fit: CurveFit;
  readonly points: readonly TransitionPoint[];
  /** Tested temperatures: what lies outside is not claimed. */
  readonly testedC: readonly [lowest: number, highest: number];
}

/** Why the data do not carry a curve. An honest refusal is a result. */
export interface TransitionRefusal {
  readonly code: "too-few" | "no-transition" | "upper-shelf-absent" | "lower-shelf-absent" | "not-determined";
  readonly message: string;
}

/** Two pieces more than free parameters: with fewer there is nothing left to judge the fit by. */
const SPARE_PIECES = 2;
const FEWEST_TEMPERATURES = 4;

/** Fits the tanh curve, or says why it cannot be fitted. Held shelves need no data of their own. */
export function fitTransition(
  points: readonly TransitionPoint[],
  held: HeldShelves = {},
): TransitionFit | TransitionRefusal {
  const free = 4 - Object.keys(held).length;
  const temperatures = points.map(({ temperatureC }) => temperatureC);
  const distinct = new Set(temperatures).size;
  if (points.length < free + SPARE_PIECES || distinct < FEWEST_TEMPERATURES) {
    const message = `${points.length} pieces at ${distinct} temperatures are too few: ${free + SPARE_PIECES} at ${FEWEST_TEMPERATURES} are needed.`;
    return { code: "too-few", message };
  }
  const testedC = [Math.min(...temperatures), Math.max(...temperatures)] as const;
  const fit = bestFit(points, held, testedC);
  const candidate = { curve: curveFrom(fit.parameters, held), held, fit, points, testedC };
  return refusal(candidate) ?? candidate;
}

export function isRefusal(result: TransitionFit | TransitionRefusal): result is TransitionRefusal {
  return "code" in result;
}

/** Wider or narrower than this a curve is none: bounds keep the solver from running into a step or a straight line. */
const NARROWEST_C = 1;
const WIDEST_SHARE_OF_RANGE = 2;

/** Several starts, the best end: the bottom of a coarse data set is not always the nearest one. */
function bestFit(
  points: readonly TransitionPoint[],
  held: HeldShelves,
  [coldest, warmest]: readonly [number, number],
): CurveFit {
  const range = warmest - coldest;
  const values = points.map(({ value }) => value);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const shelves = [
    ...(held.lower === undefined ? [Math.max(0, least)] : []),
    ...(held.upper === undefined ? [most] : []),
  ];
  const bounds = {
    lowest: [...shelves.map(() => 0), coldest - range, NARROWEST_C],
    highest: [...shelves.map(() => 3 * most), warmest + range, WIDEST_SHARE_OF_RANGE * range],
  };
  const x = points.map(({ temperatureC }) => temperatureC);
  const fits = [0.25, 0.5, 0.75].flatMap((middle) =>
    [0.08, 0.25].map((width) =>
      fitCurve(
        x,
        values,
        tanhModel(held),
        [...shelves, coldest + middle * range, Math.max(NARROWEST_C, width * range)],
        bounds,
      ),
    ),
  );
  return fits.reduce((best, fit) => (fit.residualSquares < best.residualSquares ? fit : best));
}

/** A shelf is seen where at least this many pieces lie beyond one width from the middle, where 88 % of the rise is over. */
const PIECES_ON_SHELF = 2;
/** Steels with a transition lose most of their energy in it. One that keeps half of it has none to speak of. */
const MOST_KEPT_SHARE = 0.5;

function refusal({ curve, held, fit, points }: TransitionFit): TransitionRefusal | undefined {
  const { lower, upper, middleC, widthC } = curve;
  const values = points.map(({ value }) => value);
  const coldHalf = values.filter(
    (_, i) => points[i]!.temperatureC <= median(points.map(({ temperatureC }) => temperatureC)),
  );
  if (
    median(coldHalf) > MOST_KEPT_SHARE * Math.max(...values) &&
    Math.min(...values) > MOST_KEPT_SHARE * Math.max(...values)
  ) {
    return noTransition("the coldest pieces keep more than half of the highest value, as austenitic steels do");
  }
  if (!fit.converged || !(upper > lower)) return noTransition("no rising curve fits");
  if (!betterThanLine(fit, points)) return noTransition("a straight line fits as well");

  const above = points.filter(({ temperatureC }) => temperatureC >= middleC + widthC).length;
  const below = points.filter(({ temperatureC }) => temperatureC <= middleC - widthC).length;
  if (held.upper === undefined && above < PIECES_ON_SHELF) return shelfAbsent("upper", above);
  if (held.lower === undefined && below < PIECES_ON_SHELF) return shelfAbsent("lower", below);

  const middleAt = fit.parameters.length - 2;
  const errors = [middleAt, middleAt + 1].map((i) => Math.sqrt(fit.covariance?.[i]?.[i] ?? Number.NaN));
  if (!(errors[0]! <= widthC && errors[1]! <= widthC)) {
    const message =
      "Middle and width of the transition are uncertain by more than the width itself: too few pieces lie in it.";
    return { code: "not-determined", message };
  }
  return undefined;
}

function noTransition(because: string): TransitionRefusal {
  return { code: "no-transition", message: `No transition is seen: ${because}.` };
}

function shelfAbsent(which: "upper" | "lower", count: number): TransitionRefusal {
  const where = which === "upper" ? "Warmer" : "Colder";
  const message =
    `The ${which} shelf is not defined: ${count} of the pieces lie on it, ${PIECES_ON_SHELF} are needed. ` +
    `${where} tests, or a shelf known from elsewhere, would carry the curve.`;
  return { code: `${which}-shelf-absent`, message };
}

function betterThanLine(fit: CurveFit, points: readonly TransitionPoint[]): boolean {
  const line = fitLine(
    points.map(({ temperatureC }) => temperatureC),
    points.map(({ value }) => value),
  );
  const varianceOfLine = (line?.residualStandardDeviation ?? Number.POSITIVE_INFINITY) ** 2;
  return fit.residualSquares / fit.degreesOfFreedom < varianceOfLine;
}
