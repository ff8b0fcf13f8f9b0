import type { Content, Heat, ImpactSet, TensilePiece } from "./content.js";
import type { DrawnCell, Part, Truth } from "./paper.js";
import { print, type Style, stressText, UNIT_NAMES } from "./style.js";

/** Pieces that the families of layouts put together. */

/** "0.021" under "x1000" is printed "21". */
export function scaled(value: string, power: number): string {
  const places = value.split(".")[1]?.length ?? 0;
  return (Number(value) * 10 ** power).toFixed(Math.max(0, places - power));
}

export function chemistryTruth(heat: Heat, analysis?: string): Truth[] {
  return heat.chemistry.map(([element, value]) => ({
    heat: heat.name,
    quantity: element,
    value,
    unit: "%",
    ...(analysis && { analysis }),
  }));
}

export function tensileTitles({ style, heats }: Content, withUnit = true): string[] {
  const { strengths, elongation } = heats[0]!.tensile[0]!;
  const unit = (text: string) => (withUnit ? ` [${text}]` : "");
  return [
    ...strengths.map(([quantity]) => `${style.words.strengths[quantity as "Rm"]}${unit(style.stress)}`),
    `${style.words.elongations[elongation[0]]}${unit("%")}`,
  ];
}

export function tensileCells(piece: TensilePiece, style: Style): string[] {
  return [...piece.strengths.map(([, mpa]) => print(stressText(mpa, style), style)), print(piece.elongation[1], style)];
}

export function tensileTruth(heat: Heat, style: Style): Truth[] {
  return heat.tensile.flatMap((piece) => [
    ...piece.strengths.map(([quantity, mpa]) => ({
      heat: heat.name,
      quantity,
      value: stressText(mpa, style),
      unit: UNIT_NAMES[style.stress],
    })),
    { heat: heat.name, quantity: piece.elongation[0], value: piece.elongation[1], unit: "%" },
  ]);
}

export function averageOf(set: ImpactSet): string {
  return (set.energies.reduce((sum, energy) => sum + energy, 0) / set.energies.length).toFixed(0);
}

export interface ImpactOptions {
  readonly withAverage?: boolean;
  readonly withZone?: boolean;
  readonly withExpansion?: boolean;
  readonly temperature?: string;
}

export function impactTruth(
  heat: Heat,
  { withAverage = true, withZone = true, withExpansion = false, temperature = "-196 °C" }: ImpactOptions,
): Truth[] {
  return heat.impact.flatMap((set) => {
    const where = { heat: heat.name, temperature, ...(withZone && { zone: set.zone }) };
    return [
      ...set.energies.map((energy) => ({ ...where, quantity: "KV", value: String(energy), unit: "J" })),
      ...(withAverage ? [{ ...where, quantity: "KV", value: averageOf(set), unit: "J", average: true }] : []),
      ...(withExpansion ? set.expansions.map((value) => ({ ...where, quantity: "LE", value, unit: "mm" })) : []),
    ];
  });
}

export function chemistryCells(heat: Heat, style: Style): string[] {
  return heat.chemistry.map(([, value]) => print(value, style));
}

export function firstTensileTruth(heat: Heat, style: Style): Truth[] {
  return tensileTruth({ ...heat, tensile: heat.tensile.slice(0, 1) }, style);
}

/** A table with its rows filled to one length, so that every renderer draws a rectangle. */
export function table(rows: readonly (readonly DrawnCell[])[]): Part {
  const width = (row: readonly DrawnCell[]) =>
    row.reduce((sum: number, cell) => sum + (typeof cell === "string" ? 1 : cell[1]), 0);
  const widest = Math.max(...rows.map(width));
  return { kind: "table", rows: rows.map((row) => [...row, ...Array.from({ length: widest - width(row) }, () => "")]) };
}
