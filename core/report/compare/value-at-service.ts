/** What a material's tests say of one property at the service temperature. */
export type ServiceValue =
  /** Tested there: the mean, and the least of the pieces. */
  | { readonly kind: "tested"; readonly value: number; readonly least: number; readonly pieces: number }
  /** Straight between the nearest colder and warmer tests. */
  | { readonly kind: "interpolated"; readonly value: number; readonly betweenC: readonly [number, number] }
  /** All tests lie on one side: nothing is carried beyond them. */
  | { readonly kind: "not-tested-there"; readonly nearestC: number; readonly side: "warmer" | "colder" }
  | { readonly kind: "not-tested" };

export interface TemperaturePoint {
  readonly temperatureC: number;
  readonly value: number;
}

/** A bath may be this far off and still be at the service temperature (the wider of ISO 148-1 and ASTM E23). */
const SAME_TEMPERATURE_C = 2;

/** Interpolates between tested temperatures and never extrapolates. */
export function valueAtService(points: readonly TemperaturePoint[], serviceC: number): ServiceValue {
  if (points.length === 0) return { kind: "not-tested" };
  const there = points.filter(({ temperatureC }) => Math.abs(temperatureC - serviceC) <= SAME_TEMPERATURE_C);
  if (there.length > 0) {
    return {
      kind: "tested",
      value: mean(there),
      least: Math.min(...there.map(({ value }) => value)),
      pieces: there.length,
    };
  }
  const colder = nearest(
    points.filter(({ temperatureC }) => temperatureC < serviceC),
    serviceC,
  );
  const warmer = nearest(
    points.filter(({ temperatureC }) => temperatureC > serviceC),
    serviceC,
  );
  if (!colder || !warmer) {
    const only = (colder ?? warmer)!;
    return { kind: "not-tested-there", nearestC: only.temperatureC, side: colder ? "colder" : "warmer" };
  }
  const share = (serviceC - colder.temperatureC) / (warmer.temperatureC - colder.temperatureC);
  return {
    kind: "interpolated",
    value: colder.value + share * (warmer.value - colder.value),
    betweenC: [colder.temperatureC, warmer.temperatureC],
  };
}

/** The mean of the tests at the temperature nearest to service. */
function nearest(points: readonly TemperaturePoint[], serviceC: number): TemperaturePoint | undefined {
  const [first, ...rest] = points;
  if (!first) return undefined;
  const distance = ({ temperatureC }: TemperaturePoint) => Math.abs(temperatureC - serviceC);
  const closest = rest.reduce((best, point) => (distance(point) < distance(best) ? point : best), first);
  const same = points.filter(({ temperatureC }) => temperatureC === closest.temperatureC);
  return { temperatureC: closest.temperatureC, value: mean(same) };
}

function mean(points: readonly TemperaturePoint[]): number {
  return points.reduce((sum, { value }) => sum + value, 0) / points.length;
}
