/** How one mill or laboratory prints: its language, decimal sign, units, and words. */
export interface Style {
  readonly comma: boolean;
  readonly stress: "MPa" | "N/mm²" | "ksi" | "kgf/mm²";
  readonly hasRp1: boolean;
  readonly gauges: readonly string[];
  readonly words: Words;
  /** What only the papers of the part "practice" say. */
  readonly practice?: PracticeWords;
}

export interface PracticeWords {
  /** A line under the tables that names the units which no title names. */
  readonly unitLegend: string;
  /** "L" and "P", and the line that explains them. */
  readonly analysisLetters: readonly [heat: string, product: string];
  readonly analysisLegend: string;
  readonly unit: string;
  readonly method: string;
  readonly requirement: string;
  readonly verdict: string;
  readonly passed: string;
  readonly description: string;
  readonly product: string;
  readonly position: string;
  readonly positions: readonly [top: string, bottom: string];
  readonly piece: string;
  readonly total: string;
  readonly typical: string;
  /** A heading over results of other deliveries. */
  readonly otherDeliveries: string;
  readonly preliminary: string;
  readonly continued: string;
  readonly notFound: string;
  /** Behind a mark: the value is not what it seems. */
  readonly outsideScope: string;
  readonly misprint: string;
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
