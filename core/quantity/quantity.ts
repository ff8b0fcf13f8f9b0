import type { Unit } from "./unit.js";

/**
 * The chemical elements that certificates of metals report, by symbol. Without silver: `Ag` is the uniform elongation
 * (ISO 6892-1), and one symbol may not mean two quantities.
 */
export const ELEMENTS = [
  "C",
  "Si",
  "Mn",
  "P",
  "S",
  "Cr",
  "Ni",
  "Mo",
  "N",
  "Cu",
  "Nb",
  "Ti",
  "V",
  "W",
  "Co",
  "Al",
  "B",
  "Ta",
  "Sn",
  "As",
  "Pb",
  "Sb",
  "Ca",
  "Ce",
  "La",
  "Zr",
  "Se",
  "Te",
  "Fe",
  "H",
  "O",
  "Mg",
  "Zn",
  "Bi",
  "Be",
  "Li",
  "Cd",
  "Ga",
  "Y",
] as const;
export type Element = (typeof ELEMENTS)[number];

/** Strengths and their SI unit MPa. `Rt0.5` is total extension 0.5 %; `Yield` is a yield value whose kind is not stated. */
export const STRENGTHS = ["Rm", "Rp0.2", "Rp1.0", "Rt0.5", "ReH", "ReL", "Yield"] as const;

/**
 * Elongations after fracture by gauge length, which are different quantities: `A` on 5.65√S0 (also written A5),
 * `A4` on four diameters, `A11.3` on 11.3√S0, `A50` `A80` `A200` on fixed lengths in mm (2 in and 8 in included);
 * `Elongation` is one whose gauge length is not stated.
 */
export const ELONGATIONS = ["A", "A4", "A11.3", "A50", "A80", "A200", "Elongation"] as const;

/** `Hardness` is a hardness whose scale is not stated. */
export const HARDNESSES = ["HBW", "HRB", "HRC", "HV", "Hardness"] as const;

/** Impact: `KV`/`KU` absorbed energy, `KCV` energy per area, `LE` lateral expansion, `SFA` shear fracture appearance. */
export const IMPACTS = ["KV", "KU", "KCV", "LE", "SFA"] as const;

/** Computed or measured indices. `FN` may be measured; the rest follow from chemistry. */
export const INDICES = ["CE", "Pcm", "CET", "CEN", "PREN", "FN", "Md30", "Creq", "Nieq", "G"] as const;

/** Indices that an instrument or a microscope gives: a Ferrite Number, the grain size. The others only follow from chemistry. */
export function isMeasuredIndex(quantity: Quantity): boolean {
  return quantity === "FN" || quantity === "G";
}

/** Other tensile and curve results: reduction of area, uniform elongations, modulus, energies. */
export const OTHERS = ["Z", "Ag", "Agt", "E", "toughness", "resilience"] as const;

export const QUANTITIES = [
  ...ELEMENTS,
  ...STRENGTHS,
  ...ELONGATIONS,
  ...HARDNESSES,
  ...IMPACTS,
  ...INDICES,
  ...OTHERS,
] as const;
export type Quantity = (typeof QUANTITIES)[number];

export type QuantityKind = "chemistry" | "strength" | "elongation" | "hardness" | "impact" | "index" | "other";

const KINDS: ReadonlyMap<string, QuantityKind> = new Map(
  (
    [
      [ELEMENTS, "chemistry"],
      [STRENGTHS, "strength"],
      [ELONGATIONS, "elongation"],
      [HARDNESSES, "hardness"],
      [IMPACTS, "impact"],
      [INDICES, "index"],
      [OTHERS, "other"],
    ] as const
  ).flatMap(([names, kind]) => names.map((name) => [name, kind] as const)),
);

export function isQuantity(text: string): text is Quantity {
  return KINDS.has(text);
}

export function isElement(text: string): text is Element {
  return KINDS.get(text) === "chemistry";
}

export function kindOf(quantity: Quantity): QuantityKind {
  return KINDS.get(quantity)!;
}

/** Read or computed from a chemical analysis, of the heat or of the product. */
export function isFromAnalysis(quantity: Quantity): boolean {
  return kindOf(quantity) === "chemistry" || kindOf(quantity) === "index";
}

const UNIT_BY_KIND: Readonly<Record<QuantityKind, Unit>> = {
  chemistry: "%",
  strength: "MPa",
  elongation: "%",
  hardness: "1",
  impact: "J",
  index: "1",
  other: "%",
};

const UNIT_BY_QUANTITY: Partial<Record<Quantity, Unit>> = {
  HBW: "HBW",
  HRB: "HRB",
  HRC: "HRC",
  HV: "HV",
  KCV: "J/cm2",
  LE: "mm",
  SFA: "%",
  E: "GPa",
  toughness: "MJ/m3",
  resilience: "MJ/m3",
  Md30: "°C",
};

/** The unit that the report states the quantity in: SI as the standards use it. */
export function reportUnit(quantity: Quantity): Unit {
  return UNIT_BY_QUANTITY[quantity] ?? UNIT_BY_KIND[kindOf(quantity)];
}
