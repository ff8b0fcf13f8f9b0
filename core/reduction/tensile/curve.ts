/**
 * A tensile curve ready for reduction: engineering strain as a ratio and engineering stress in MPa, sample by sample, both finite.
 * Samples after the extensometer came off are not here; `highestStressMPa` looks at the whole record.
 */
export interface TensileCurve {
  readonly strain: Float64Array;
  readonly stressMPa: Float64Array;
  /** An extensometer on the gauge length, or only the movement of the crosshead, which includes the machine's own give. */
  readonly strainFrom: "extensometer" | "crosshead";
  /** Highest stress of the whole record, and its sample in this curve where it lies before the extensometer came off. */
  readonly highestStressMPa: number;
  /** Strain follows the specimen to the end of the record. */
  readonly complete: boolean;
}

/** Strain on the elastic line at a stress: where the specimen would be without plastic strain. */
export function elasticStrain(
  line: { readonly slopeMPa: number; readonly zeroStrain: number },
  stressMPa: number,
): number {
  return line.zeroStrain + stressMPa / line.slopeMPa;
}

export function indexOfHighest(values: ArrayLike<number>, from = 0, to = values.length): number {
  let best = from;
  for (let i = from + 1; i < to; i++) if (values[i]! > values[best]!) best = i;
  return best;
}

/** First sample, at or after `from`, whose value is at least `level`; undefined where there is none. */
export function firstAtLeast(values: ArrayLike<number>, level: number, from = 0): number | undefined {
  for (let i = from; i < values.length; i++) if (values[i]! >= level) return i;
  return undefined;
}
