import { studentT95 } from "../statistics/student-t.js";
import type { TransitionFit } from "./fit-transition.js";
import { freeSlopes, tanhSlopes, tanhValue, temperatureAt } from "./tanh-model.js";

/** A value with the half width of its 95 % interval. */
export interface WithInterval {
  readonly value: number;
  readonly plusMinus: number;
}

/** The curve's mean at a temperature with its 95 % interval, by the delta method: J Cov Jᵀ with Student's t. */
export function meanAt(result: TransitionFit, temperatureC: number): WithInterval {
  const { curve, held, fit } = result;
  return {
    value: tanhValue(curve, temperatureC),
    plusMinus: halfWidth(result, freeSlopes(curve, held, temperatureC), fit.degreesOfFreedom),
  };
}

/** The temperature for a value, or in words why there is none. Never outside the tested temperatures. */
export type TransitionTemperature = WithInterval | { readonly none: string };

export function transitionTemperature(result: TransitionFit, value: number, unit: string): TransitionTemperature {
  const { curve, held, fit, testedC } = result;
  const temperatureC = temperatureAt(curve, value);
  if (temperatureC === undefined) {
    const side = value <= curve.lower ? "above" : "below";
    return { none: `the curve stays ${side} ${value} ${unit}` };
  }
  if (temperatureC < testedC[0] || temperatureC > testedC[1]) {
    return { none: `${value} ${unit} lies outside the tested ${testedC[0]} to ${testedC[1]} °C` };
  }
  // At a fixed value, dT by a parameter is minus the curve's slope in it over its slope in temperature.
  const { byTemperature } = tanhSlopes(curve, temperatureC);
  const slopes = freeSlopes(curve, held, temperatureC).map((slope) => -slope / byTemperature);
  return { value: temperatureC, plusMinus: halfWidth(result, slopes, fit.degreesOfFreedom) };
}

/** The upper shelf with its interval; without one where the shelf was held. */
export function upperShelf(result: TransitionFit): WithInterval {
  const { curve, held, fit } = result;
  if (held.upper !== undefined) return { value: held.upper, plusMinus: 0 };
  const index = held.lower === undefined ? 1 : 0;
  const variance = fit.covariance?.[index]?.[index] ?? Number.NaN;
  return { value: curve.upper, plusMinus: studentT95(fit.degreesOfFreedom) * Math.sqrt(variance) };
}

function halfWidth({ fit }: TransitionFit, slopes: readonly number[], degreesOfFreedom: number): number {
  let variance = 0;
  for (const [i, row] of (fit.covariance ?? []).entries()) {
    for (const [j, value] of row.entries()) variance += slopes[i]! * value * slopes[j]!;
  }
  return fit.covariance ? studentT95(degreesOfFreedom) * Math.sqrt(Math.max(0, variance)) : Number.NaN;
}
