/** What a sound tensile test of a metal shows, with room for real tests. Handbook values, common practice. */
export interface Metal {
  readonly words: RegExp;
  readonly name: string;
  readonly lowGPa: number;
  readonly highGPa: number;
  readonly usualGPa: number;
  /** Tensile strengths between which nearly all of its products lie. */
  readonly weakestMPa: number;
  readonly strongestMPa: number;
}

const OTHER_METALS: readonly Metal[] = [
  {
    words: /\bal(umin|u\b|\d|\b)|en[- ]?aw/i,
    name: "aluminium",
    ...{ lowGPa: 60, highGPa: 80, usualGPa: 70, weakestMPa: 50, strongestMPa: 800 },
  },
  {
    words: /\bti(tan|-?\d|\b)/i,
    name: "titanium",
    ...{ lowGPa: 95, highGPa: 125, usualGPa: 110, weakestMPa: 200, strongestMPa: 1600 },
  },
  {
    words: /copper|kupfer|brass|messing|bronze|\bcu/i,
    name: "copper alloys",
    ...{ lowGPa: 90, highGPa: 150, usualGPa: 120, weakestMPa: 150, strongestMPa: 1500 },
  },
];

/** Steels, austenitic ones included; at -196 °C the modulus is some 5 % higher than at room temperature. */
const STEEL: Metal = {
  words: /./,
  name: "steel",
  ...{ lowGPa: 170, highGPa: 220, usualGPa: 200, weakestMPa: 200, strongestMPa: 2000 },
};

/** The metal that a material's name tells; steel where it tells none. */
export function metalOf(material: string | undefined): Metal {
  return OTHER_METALS.find(({ words }) => material !== undefined && words.test(material)) ?? STEEL;
}
