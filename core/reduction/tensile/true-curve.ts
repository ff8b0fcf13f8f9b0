/** True stress and true (logarithmic) strain. */
export interface TrueCurve {
  readonly strain: Float64Array;
  readonly stressMPa: Float64Array;
}

/**
 * True values from engineering ones, strain counted from `zeroStrain`, up to and including sample `last`.
 * Constant volume and even strain are assumed, so `last` must not lie beyond Rm: from there on the neck carries the strain.
 */
export function trueCurve(
  curve: { readonly strain: Float64Array; readonly stressMPa: Float64Array },
  zeroStrain: number,
  last: number,
): TrueCurve {
  const strain = new Float64Array(last + 1);
  const stressMPa = new Float64Array(last + 1);
  for (let i = 0; i <= last; i++) {
    const stretch = 1 + curve.strain[i]! - zeroStrain;
    strain[i] = Math.log(stretch);
    stressMPa[i] = curve.stressMPa[i]! * stretch;
  }
  return { strain, stressMPa };
}
