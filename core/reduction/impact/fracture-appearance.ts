/**
 * Lateral expansion of a broken piece: on each side the larger of what the two halves show, both sides added (ASTM E23, from
 * memory of the standard). Each pair is one side of the piece, measured on both halves.
 */
export function lateralExpansionMm(side1: readonly [number, number], side2: readonly [number, number]): number {
  return Math.max(...side1) + Math.max(...side2);
}

/** Depth under the notch of a standard V-notch piece, mm. */
const UNDER_NOTCH_MM = 8;

/** Shear fracture appearance from the shiny cleavage patch, A wide and B deep: 100 (1 - A B / section), in percent. */
export function shearFracturePercent(
  patchWidthMm: number,
  patchDepthMm: number,
  specimenWidthMm = 10,
): number | undefined {
  const section = specimenWidthMm * UNDER_NOTCH_MM;
  const patch = patchWidthMm * patchDepthMm;
  const fits =
    patchWidthMm >= 0 && patchWidthMm <= specimenWidthMm && patchDepthMm >= 0 && patchDepthMm <= UNDER_NOTCH_MM;
  if (!fits) return undefined;
  return 100 * (1 - patch / section);
}
