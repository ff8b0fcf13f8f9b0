import type { RecordDimension } from "../reading/spelled-unit.js";

/** What a column of an impact record holds. `halfN` are the four readings of lateral expansion, sides 1 1 2 2. */
export type ImpactColumn =
  | "id"
  | "heat"
  | "set"
  | "zone"
  | "orientation"
  | "temperature"
  | "width"
  | "releaseAngle"
  | "riseAngle"
  | "releaseHeight"
  | "riseHeight"
  | "energy"
  | "half1"
  | "half2"
  | "half3"
  | "half4"
  | "expansion"
  | "patchWidth"
  | "patchDepth"
  | "shear"
  | "transfer";

interface ColumnName {
  readonly column: ImpactColumn;
  readonly words: RegExp;
  readonly dimension?: RecordDimension;
}

const HALF = "(?:half|hälfte|piece|stück|moitié|metà|mitad)";
const SIDE = "(?:side|seite|côté|lato|lado)";

/** Headings in English, German, French, Italian and Spanish, narrower first. The four halves are named A1 to A4, or by side and half. */
const NAMES: readonly ColumnName[] = [
  ...half("half1", "a1", "1", "1a"),
  ...half("half2", "a2", "1", "2b"),
  ...half("half3", "a3", "2", "1a"),
  ...half("half4", "a4", "2", "2b"),
  {
    column: "patchWidth",
    words: /(patch|cleavage|spalt|cr[iy]stal).*(width|breite|largeur|larghezza|anchura|\ba\b)/i,
    dimension: "length",
  },
  {
    column: "patchDepth",
    words: /(patch|cleavage|spalt|cr[iy]stal).*(depth|height|tiefe|höhe|profond|hauteur|\bb\b)/i,
    dimension: "length",
  },
  {
    column: "releaseHeight",
    words: /(release|drop|fall|initial).*(height|höhe)|fallhöhe|^h1$|(hauteur|altezza|altura).*(chute|caduta|caída)/i,
    dimension: "length",
  },
  {
    column: "riseHeight",
    words: /(rise|final|end).*(height|höhe)|steighöhe|^h2$|(hauteur|altezza|altura).*(remontée|risalita|subida)/i,
    dimension: "length",
  },
  {
    column: "releaseAngle",
    words:
      /(release|fall|drop|initial|start).*(angle|winkel)|fallwinkel|auslöse|^(alpha|α)$|[aá]ng[uo]l[eo].*(chute|caduta|caída)|angle de chute/i,
    dimension: "angle",
  },
  {
    column: "riseAngle",
    words:
      /(rise|final|end|swing).*(angle|winkel)|steigwinkel|^(beta|β)1?$|[aá]ng[uo]l[eo].*(risalita|subida)|angle de remontée/i,
    dimension: "angle",
  },
  { column: "transfer", words: /trans?fer|übergabe|überführ|trasferimento/i, dimension: "time" },
  { column: "expansion", words: /later[aá]l|breitung|^le$/i, dimension: "length" },
  { column: "shear", words: /shear|\bsfa\b|scher|matt|cisaillement|duttile|d[uú]ctil|fibros/i },
  { column: "energy", words: /energ[yií]|énergie|^k[vu]?[28]?$|schlagarbeit|\barbeit|absorbed/i, dimension: "energy" },
  { column: "temperature", words: /temp/i },
  { column: "heat", words: /^heat|schmelze|^charge|cast|coulée|colata|colada/i },
  { column: "zone", words: /zon[ea]|notch (position|location)|location|kerblage|bereich|entaille|intaglio|entalla/i },
  { column: "orientation", words: /orientation|direction|richtung|probenlage|direzione|dirección|^sens$/i },
  { column: "set", words: /^(set|series|serie|satz|test no|test|série)(?!\p{L})/iu },
  { column: "width", words: /width|breite|largeur|larghezza|anchura/i, dimension: "length" },
  { column: "id", words: /^(specimen|sample|piece|probe|id|no\.?|nr\.?|mark|#|éprouvette|provetta|probeta)/i },
];

function half(column: ImpactColumn, symbol: string, side: string, halves: string): ColumnName[] {
  const which = `[${halves}]`;
  return [
    { column, words: new RegExp(`^(?:le )?${symbol}$`, "i"), dimension: "length" },
    { column, words: new RegExp(`${SIDE} ?${side}\\b.*${HALF} ?${which}\\b`, "i"), dimension: "length" },
    { column, words: new RegExp(`${HALF} ?${which}\\b.*${SIDE} ?${side}\\b`, "i"), dimension: "length" },
  ];
}

export function impactColumn(heading: string): Omit<ColumnName, "words"> | undefined {
  return NAMES.find(({ words }) => words.test(heading.trim()));
}

/** Groups of columns that only a raw record has: with one of them there is something to reduce. */
const RAW_GROUPS: readonly (readonly ImpactColumn[])[] = [
  ["riseAngle"],
  ["riseHeight"],
  ["half1", "half2", "half3", "half4"],
  ["patchWidth", "patchDepth"],
];
export const RAW_COLUMNS: readonly ImpactColumn[] = RAW_GROUPS.flat();

export function isRaw(columns: readonly ImpactColumn[]): boolean {
  return RAW_GROUPS.some((group) => group.every((column) => columns.includes(column)));
}
