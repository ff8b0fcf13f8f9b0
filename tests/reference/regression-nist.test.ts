import { describe, expect, test } from "vitest";
import { type CurveModel, fitCurve } from "../../core/reduction/statistics/fit-curve.js";
import { fitLine } from "../../core/reduction/statistics/line-fit.js";
import { dataFile } from "./table-of.js";

// NIST Statistical Reference Datasets: certified values stand in the files, with the place of each in their heads.

/** Data lines hold y, then x. */
function dataOf(file: string) {
  const lines = dataFile(`nist-strd/${file}.dat`).split(/\r?\n/);
  const [from, to] = lines
    .find((line) => /^\s*Data\s+\(lines/.test(line))!
    .match(/\d+/g)!
    .map(Number) as [number, number];
  const rows = lines.slice(from - 1, to).map((line) => line.trim().split(/\s+/).map(Number));
  return { x: rows.map((row) => row[1]!), y: rows.map((row) => row[0]!) };
}

/** Rows "b1 = start1 start2 parameter deviation" of the nonlinear files, and the certified residual sum of squares. */
function certifiedOf(file: string) {
  const text = dataFile(`nist-strd/${file}.dat`);
  const rows = [...text.matchAll(/^\s*b\d+\s*=\s*(.+)$/gm)].map((match) => match[1]!.trim().split(/\s+/).map(Number));
  const squares = Number(/Residual Sum of Squares:\s*([\d.E+-]+)/i.exec(text)![1]);
  const column = (index: number) => rows.map((row) => row[index]!);
  return { starts: [column(0), column(1)], parameters: column(2), deviations: column(3), squares };
}

test("Norris, straight line: certified to 1e-9", () => {
  const { x, y } = dataOf("Norris");
  const fit = fitLine(x, y)!;
  const certified: readonly (readonly [number, number])[] = [
    [fit.intercept, -0.262323073774029],
    [fit.slope, 1.00211681802045],
    [fit.interceptStandardError, 0.232818234301152],
    [fit.slopeStandardError, 0.000429796848199937],
    [fit.residualStandardDeviation, 0.884796396144373],
    [fit.rSquared, 0.999993745883712],
  ];
  for (const [value, expected] of certified) expect(Math.abs(value / expected - 1)).toBeLessThan(1e-9);
});

test("a steep line far from zero keeps its slope: both axes are centred first", () => {
  const x = Float64Array.from({ length: 50 }, (_, i) => 10_000 + i * 1e-5);
  const y = x.map((value) => 200_000 * (value - 10_000));
  expect(Math.abs(fitLine(x, y)!.slope / 200_000 - 1)).toBeLessThan(1e-6);
});

const MODELS: Readonly<Record<string, CurveModel["value"]>> = {
  MGH09: ([b1, b2, b3, b4], x) => (b1! * (x * x + b2! * x)) / (x * x + b3! * x + b4!),
  Rat43: ([b1, b2, b3, b4], x) => b1! / (1 + Math.exp(b2! - b3! * x)) ** (1 / b4!),
  Misra1a: ([b1, b2], x) => b1! * (1 - Math.exp(-b2! * x)),
  Thurber: ([b1, b2, b3, b4, b5, b6, b7], x) =>
    (b1! + b2! * x + b3! * x * x + b4! * x ** 3) / (1 + b5! * x + b6! * x * x + b7! * x ** 3),
};

/** Derivatives by central differences, so that the test says nothing twice. */
function withGradient(value: CurveModel["value"]): CurveModel {
  return {
    value,
    gradient: (parameters, x) =>
      parameters.map((parameter, i) => {
        const step = 1e-6 * Math.max(Math.abs(parameter), 1e-6);
        const moved = (by: number) => parameters.map((other, j) => (j === i ? other + by : other));
        return (value(moved(step), x) - value(moved(-step), x)) / (2 * step);
      }),
  };
}

for (const [name, value] of Object.entries(MODELS)) {
  describe(`${name}, nonlinear`, () => {
    const { x, y } = dataOf(name);
    const certified = certifiedOf(name);
    // NIST asks for six digits of the parameters; both starts are tried, the first being far away on purpose.
    for (const [index, start] of certified.starts.entries()) {
      test(`start ${index + 1} reaches the certified minimum`, () => {
        const fit = fitCurve(x, y, withGradient(value), start);
        expect(fit.converged).toBe(true);
        expect(Math.abs(fit.residualSquares / certified.squares - 1)).toBeLessThan(1e-8);
        for (const [i, parameter] of certified.parameters.entries()) {
          expect(Math.abs(fit.parameters[i]! / parameter - 1)).toBeLessThan(1e-6);
        }
        for (const [i, deviation] of certified.deviations.entries()) {
          expect(Math.abs(Math.sqrt(fit.covariance![i]![i]!) / deviation - 1)).toBeLessThan(1e-5);
        }
      });
    }
    test("the same start gives the same digits again", () => {
      const again = [1, 2].map(() => fitCurve(x, y, withGradient(value), certified.starts[1]!).parameters);
      expect(again[0]).toEqual(again[1]);
    });
  });
}
