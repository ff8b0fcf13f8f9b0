import type { Random } from "./random.js";
import type { Style } from "./styles/style.js";

/** Results of one invented heat, in SI with a point; a style says how they are printed. */
export interface Heat {
  readonly name: string;
  readonly plate: string;
  readonly chemistry: readonly Analysis[];
  /** Check analysis on the product: near the other, and never the same throughout. */
  readonly product: readonly Analysis[];
  readonly tensile: readonly TensilePiece[];
  readonly impact: readonly ImpactSet[];
  readonly hardness: readonly number[];
}

export type Analysis = readonly [element: string, value: string];

export interface TensilePiece {
  readonly name: string;
  readonly strengths: readonly (readonly [quantity: string, mpa: number])[];
  readonly elongation: readonly [quantity: string, value: string];
}

export interface ImpactSet {
  readonly zone: "base" | "weld" | "haz";
  readonly energies: readonly number[];
  readonly expansions: readonly string[];
  readonly shears: readonly number[];
}

export interface Content {
  readonly style: Style;
  readonly heats: readonly Heat[];
  readonly number: string;
  readonly order: string;
}

const ELEMENTS: readonly (readonly [element: string, low: number, high: number, places: number])[] = [
  ["C", 12, 70, 3],
  ["Si", 20, 75, 2],
  ["Mn", 80, 190, 2],
  ["P", 15, 42, 3],
  ["S", 1, 14, 3],
  ["Cr", 1660, 1940, 2],
  ["Ni", 800, 1190, 2],
  ["Mo", 5, 240, 2],
  ["Cu", 5, 60, 2],
  ["N", 20, 95, 3],
];

export function inventContent(
  random: Random,
  styles: readonly Style[],
  [least, most]: readonly [number, number] = [1, 3],
): Content {
  const style = random.pick(styles);
  const elements = ELEMENTS.filter(([element]) => "C Si Mn P S Cr Ni".includes(element) || random.chance(0.6));
  const gauge = random.pick(style.gauges);
  const shape = random.pick([
    () => `${random.pick(["N", "A", "K", "7K"])}${random.between(10000, 99999)}`,
    () => `${random.between(100000, 999999)}`,
    () => `${random.between(100, 999)} ${random.between(100, 999)}`,
    () => `${random.pick(["B", "E"])}${random.between(10, 99)}-${random.between(100, 999)}`,
  ]);
  const names = new Set<string>();
  const count = random.between(least, most);
  while (names.size < count) names.add(shape());
  const firstPlate = random.between(101, 880);
  return {
    style,
    number: `${random.pick(["TS", "MZ", "CE"])}-${random.between(1000, 9999)}`,
    order: `45${random.between(10000, 99999)}`,
    heats: [...names].map((name, index) => inventHeat(name, `P${firstPlate + 3 * index}`)),
  };

  function inventHeat(name: string, plate: string): Heat {
    const digits = elements.map(
      ([element, low, high, places]) => [element, random.between(low, high), places] as const,
    );
    const written = (value: number, places: number) => (value / 10 ** places).toFixed(places);
    return {
      name,
      plate,
      chemistry: digits.map(([element, value, places]) => [element, written(value, places)]),
      product: digits.map(([element, value, places]) => [element, written(value + random.between(0, 2), places)]),
      tensile: Array.from({ length: random.between(1, 2) }, (_, index) => inventTensile(index)),
      impact: (["base", "weld", "haz"] as const).slice(0, random.between(1, 3)).map(inventImpact),
      hardness: [random.between(150, 195), random.between(150, 195), random.between(150, 195)],
    };
  }

  function inventTensile(index: number): TensilePiece {
    const yieldMpa = random.between(240, 330);
    return {
      name: `${random.pick(["T", "Z"])}${index + 1}`,
      strengths: [
        ["Rp0.2", yieldMpa] as const,
        ...(style.hasRp1 ? [["Rp1.0", yieldMpa + random.between(30, 50)] as const] : []),
        ["Rm", yieldMpa + random.between(280, 330)] as const,
      ],
      elongation: [gauge, String(random.between(40, 62))],
    };
  }

  function inventImpact(zone: ImpactSet["zone"]): ImpactSet {
    const energies = [random.between(45, 140), random.between(45, 140), random.between(45, 140)];
    return {
      zone,
      energies,
      expansions: energies.map((energy) => (energy / 90).toFixed(2)),
      shears: energies.map((energy) => Math.min(100, 10 * Math.round(energy / 14))),
    };
  }
}
