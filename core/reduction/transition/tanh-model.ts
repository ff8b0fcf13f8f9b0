import type { CurveModel } from "../statistics/fit-curve.js";

/** Shelves, middle and half width of a transition: value = lower + (upper - lower)/2 (1 + tanh((T - middle)/width)). */
export interface TanhCurve {
  readonly lower: number;
  readonly upper: number;
  /** Temperature halfway between the shelves, °C. */
  readonly middleC: number;
  readonly widthC: number;
}

export function tanhValue({ lower, upper, middleC, widthC }: TanhCurve, temperatureC: number): number {
  return lower + ((upper - lower) / 2) * (1 + Math.tanh((temperatureC - middleC) / widthC));
}

/** Temperature at which the curve has a value: the inverse, undefined at and beyond the shelves. */
export function temperatureAt({ lower, upper, middleC, widthC }: TanhCurve, value: number): number | undefined {
  const share = (2 * (value - lower)) / (upper - lower) - 1;
  return share > -1 && share < 1 ? middleC + widthC * Math.atanh(share) : undefined;
}

/** Partial derivatives by lower, upper, middle, width, and by temperature last. */
export function tanhSlopes({ lower, upper, middleC, widthC }: TanhCurve, temperatureC: number) {
  const at = (temperatureC - middleC) / widthC;
  const rise = Math.tanh(at);
  const steep = (((upper - lower) / 2) * (1 - rise * rise)) / widthC;
  return {
    byLower: (1 - rise) / 2,
    byUpper: (1 + rise) / 2,
    byMiddle: -steep,
    byWidth: -steep * at,
    byTemperature: steep,
  };
}

/** Shelves that are known beforehand are held; the others are parameters, in the order lower, upper, middle, width. */
export interface HeldShelves {
  readonly lower?: number;
  readonly upper?: number;
}

export function curveFrom(parameters: readonly number[], held: HeldShelves): TanhCurve {
  const rest = [...parameters];
  const lower = held.lower ?? rest.shift()!;
  const upper = held.upper ?? rest.shift()!;
  return { lower, upper, middleC: rest[0]!, widthC: rest[1]! };
}

export function tanhModel(held: HeldShelves): CurveModel {
  return {
    value: (parameters, temperatureC) => tanhValue(curveFrom(parameters, held), temperatureC),
    gradient: (parameters, temperatureC) => freeSlopes(curveFrom(parameters, held), held, temperatureC),
  };
}

export function freeSlopes(curve: TanhCurve, held: HeldShelves, temperatureC: number): number[] {
  const slopes = tanhSlopes(curve, temperatureC);
  return [
    ...(held.lower === undefined ? [slopes.byLower] : []),
    ...(held.upper === undefined ? [slopes.byUpper] : []),
    slopes.byMiddle,
    slopes.byWidth,
  ];
}
