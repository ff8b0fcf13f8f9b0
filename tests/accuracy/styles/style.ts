/** How one mill or laboratory prints: its language, decimal sign, units, and words. */
export interface Style {
  readonly comma: boolean;
  readonly stress: "MPa" | "N/mm²" | "ksi" | "kgf/mm²";
  readonly hasRp1: boolean;
  readonly gauges: readonly string[];
  readonly words: Words;
}

export interface Words {
  readonly heat: string;
  readonly certificate: string;
  readonly order: string;
  readonly grade: string;
  readonly chemistry: string;
  readonly tensile: string;
  readonly impact: string;
  readonly hardness: string;
  readonly temperature: string;
  readonly zone: string;
  readonly specimen: string;
  readonly plate: string;
  readonly direction: string;
  readonly directions: { readonly longitudinal: string; readonly transverse: string };
  readonly size: string;
  readonly average: string;
  readonly min: string;
  readonly max: string;
  readonly actual: string;
  readonly element: string;
  readonly strengths: { readonly Rm: string; readonly "Rp0.2": string; readonly "Rp1.0": string };
  readonly elongations: Readonly<Record<string, string>>;
  readonly energy: string;
  readonly zones: { readonly base: string; readonly weld: string; readonly haz: string };
  readonly lateral: string;
  readonly shear: string;
  readonly retest: string;
  readonly heatAnalysis: string;
  readonly productAnalysis: string;
  readonly analysis: string;
  readonly weight: string;
  readonly thickness: string;
  readonly remarks: string;
}

export function print(value: string, style: Style): string {
  return style.comma ? value.replace(".", ",") : value;
}

const MPA_PER: Readonly<Record<Style["stress"], number>> = { MPa: 1, "N/mm²": 1, ksi: 6.894757, "kgf/mm²": 9.80665 };
export const UNIT_NAMES: Readonly<Record<Style["stress"], string>> = {
  MPa: "MPa",
  "N/mm²": "N/mm2",
  ksi: "ksi",
  "kgf/mm²": "kgf/mm2",
};

/** A strength in the style's unit, with the places that mills print. */
export function stressText(mpa: number, style: Style): string {
  return MPA_PER[style.stress] === 1 ? String(mpa) : (mpa / MPA_PER[style.stress]).toFixed(1);
}
