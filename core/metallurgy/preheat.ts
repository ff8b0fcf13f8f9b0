/** What the preheat of a carbon or low-alloy steel depends on besides its CET. */
export interface PreheatConditions {
  readonly cet: number;
  readonly plateThicknessMm: number;
  /** Diffusible hydrogen of the deposit. */
  readonly hydrogenMlPer100g: number;
  readonly heatInputKJPerMm: number;
}

/** EN 1011-2 method B: Tp = 697 CET + 160 tanh(d/35) + 62 HD^0.35 + (53 CET - 32) Q - 328, information only. */
export function preheatC({ cet, plateThicknessMm, hydrogenMlPer100g, heatInputKJPerMm }: PreheatConditions): number {
  return (
    697 * cet +
    160 * Math.tanh(plateThicknessMm / 35) +
    62 * hydrogenMlPer100g ** 0.35 +
    (53 * cet - 32) * heatInputKJPerMm -
    328
  );
}
