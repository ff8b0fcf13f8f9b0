import { levenbergMarquardt } from "ml-levenberg-marquardt";
import { invertSymmetric } from "./invert-symmetric.js";

/** A curve with parameters, and its partial derivatives by each of them. */
export interface CurveModel {
  readonly value: (parameters: readonly number[], x: number) => number;
  readonly gradient: (parameters: readonly number[], x: number) => readonly number[];
}

export interface CurveFit {
  readonly parameters: readonly number[];
  readonly residualSquares: number;
  /** Covariance of the parameters, from the residual variance and the curve's slope in each; absent where it is singular. */
  readonly covariance?: readonly (readonly number[])[];
  readonly degreesOfFreedom: number;
  readonly converged: boolean;
}

export interface FitBounds {
  readonly lowest: readonly number[];
  readonly highest: readonly number[];
}

const MOST_STEPS = 2000;
/** The fit is done when no parameter moves by more than this share of itself. */
const STILL = 1e-11;
const DAMPING = { first: 1e-3, least: 1e-12, most: 1e12, step: 10 };

/**
 * Nonlinear least squares by Levenberg and Marquardt.
 *
 * The library makes each single step; this function decides about it. Left to run by itself the library takes steps that worsen the
 * fit and cannot tell whether it has arrived, and misses the certified minimum from two of eight NIST StRD starts. Here a worse
 * step is refused and damped more, and parameters are scaled by how much the curve depends on them, as Marquardt does.
 */
export function fitCurve(
  x: readonly number[],
  y: readonly number[],
  model: CurveModel,
  start: readonly number[],
  bounds?: FitBounds,
): CurveFit {
  let parameters = [...start];
  let residualSquares = sumOfSquares(x, y, model, parameters);
  let damping = DAMPING.first;
  let converged = false;
  // Moré's rule: the scale of a parameter never shrinks, or a step may run away along one that has stopped to matter.
  let scales = columnLengths(x, model, parameters);
  for (let step = 0; step < MOST_STEPS && !converged; step++) {
    const next = oneStep(x, y, model, parameters, scales, damping, bounds);
    const nextSquares = next ? sumOfSquares(x, y, model, next) : Number.NaN;
    if (next && nextSquares < residualSquares) {
      converged = next.every((value, i) => Math.abs(value - parameters[i]!) <= STILL * Math.abs(value));
      parameters = next;
      residualSquares = nextSquares;
      scales = columnLengths(x, model, parameters).map((length, i) => Math.max(length, scales[i]!));
      damping = Math.max(damping / DAMPING.step, DAMPING.least);
    } else {
      // No shorter step makes it better either: this is the bottom, to the last digit.
      converged = damping >= DAMPING.most;
      damping *= DAMPING.step;
    }
  }
  const degreesOfFreedom = x.length - parameters.length;
  const covariance = covarianceAt(x, model, parameters, residualSquares / degreesOfFreedom);
  return { parameters, residualSquares, degreesOfFreedom, converged, ...(covariance && { covariance }) };
}

function oneStep(
  x: readonly number[],
  y: readonly number[],
  model: CurveModel,
  parameters: readonly number[],
  scales: readonly number[],
  damping: number,
  bounds: FitBounds | undefined,
): number[] | undefined {
  const initialValues = parameters.map((value, i) => value * scales[i]!);
  const unscaled = (scaled: readonly number[]) => scaled.map((value, i) => value / scales[i]!);
  try {
    const { parameterValues } = levenbergMarquardt(
      { x: [...x], y: [...y] },
      (scaled: number[]) => (at: number) => model.value(unscaled(scaled), at),
      {
        initialValues,
        damping,
        maxIterations: 1,
        errorTolerance: 0,
        jacobianFunction: (scaled: number[]) => (at: number) =>
          model.gradient(unscaled(scaled), at).map((partial, i) => partial / scales[i]!),
        ...(bounds && {
          minValues: bounds.lowest.map((value, i) => value * scales[i]!),
          maxValues: bounds.highest.map((value, i) => value * scales[i]!),
        }),
      },
    );
    // Where the step was worse, the library hands the start back.
    if (parameterValues.every((value, i) => value === initialValues[i])) return undefined;
    const next = unscaled(parameterValues);
    return next.every(Number.isFinite) ? next : undefined;
  } catch {
    // A step into nowhere: the matrix had no finite entries. The caller damps more.
    return undefined;
  }
}

function columnLengths(x: readonly number[], model: CurveModel, parameters: readonly number[]): number[] {
  const squares = parameters.map(() => 0);
  for (const at of x) {
    model.gradient(parameters, at).forEach((partial, i) => {
      squares[i] = squares[i]! + partial * partial;
    });
  }
  return squares.map((square) => (square > 0 && Number.isFinite(square) ? Math.sqrt(square) : 1));
}

function sumOfSquares(
  x: readonly number[],
  y: readonly number[],
  model: CurveModel,
  parameters: readonly number[],
): number {
  return x.reduce((sum, at, i) => sum + (y[i]! - model.value(parameters, at)) ** 2, 0);
}

function covarianceAt(x: readonly number[], model: CurveModel, parameters: readonly number[], variance: number) {
  const normal = parameters.map(() => parameters.map(() => 0));
  for (const at of x) {
    const gradient = model.gradient(parameters, at);
    for (const [i, row] of normal.entries()) {
      for (let j = 0; j < row.length; j++) row[j] = row[j]! + gradient[i]! * gradient[j]!;
    }
  }
  const inverse = invertSymmetric(normal);
  return Number.isFinite(variance) ? inverse?.map((row) => row.map((value) => value * variance)) : undefined;
}
