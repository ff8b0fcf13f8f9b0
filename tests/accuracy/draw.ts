import type { Analysis, Content, Heat, ImpactSet, TensilePiece } from "./content.js";
import type { Cell, Part, PlacedCell, Table, Truth } from "./paper.js";
import { print, type Style, stressText, UNIT_NAMES } from "./styles/style.js";

/** What the families of layouts put their papers together from. A bare text is a cell without results. */
export type Drawn = string | Cell;

export function cell(text: string, more: Partial<Omit<Cell, "text">> = {}): Cell {
  return { text, columns: 1, rows: 1, truths: [], ...more };
}

export function span(text: string, columns: number): Cell {
  return cell(text, { columns });
}

export function heatCell(heat: Heat, more: Partial<Omit<Cell, "text">> = {}): Cell {
  return cell(heat.name, { heat: heat.name, ...more });
}

export function text(drawn: Drawn): Part {
  return { kind: "text", cell: toCell(drawn) };
}

export function fields(...pairs: readonly (readonly [label: string, value: Drawn])[]): Part {
  return { kind: "fields", pairs: pairs.map(([label, value]) => [toCell(label), toCell(value)]) };
}

export function table(
  rows: readonly (readonly Drawn[])[],
  { headRows = 1, repeatsHead = false }: Partial<Pick<Table, "headRows" | "repeatsHead">> = {},
): Part & { readonly kind: "tables" } {
  return { kind: "tables", tables: [layOut(rows, headRows, repeatsHead)] };
}

export function beside(...parts: readonly (Part & { readonly kind: "tables" })[]): Part {
  return { kind: "tables", tables: parts.flatMap(({ tables }) => tables) };
}

function toCell(drawn: Drawn): Cell {
  return typeof drawn === "string" ? cell(drawn) : drawn;
}

/** Each row lists its own cells; places that a taller cell above reaches into are left out, as in HTML. */
function layOut(rows: readonly (readonly Drawn[])[], headRows: number, repeatsHead: boolean): Table {
  const cells: PlacedCell[] = [];
  const taken = new Set<string>();
  let width = 0;
  rows.forEach((drawn, row) => {
    let column = 0;
    for (const one of drawn.map(toCell)) {
      while (taken.has(`${row} ${column}`)) column += 1;
      cells.push({ cell: one, row, column });
      for (let down = 0; down < one.rows; down++) {
        for (let across = 0; across < one.columns; across++) taken.add(`${row + down} ${column + across}`);
      }
      column += one.columns;
      width = Math.max(width, column);
    }
  });
  return { cells, width, height: rows.length, headRows, repeatsHead };
}

/** "0.021" under "x1000" is printed "21". */
export function scaled(value: string, power: number): string {
  const places = value.split(".")[1]?.length ?? 0;
  return (Number(value) * 10 ** power).toFixed(Math.max(0, places - power));
}

export function symbolsOf({ heats }: Content): string[] {
  return heats[0]!.chemistry.map(([element]) => element);
}

export function header({ style: { words }, number, order }: Content): Part {
  return fields([words.certificate, number], ["EN 10204", "3.1"], [words.order, order], [words.grade, "1.4307"]);
}

type Printed = (value: string, element: string) => string;

export function chemistryCells(
  heat: Heat,
  style: Style,
  said: Partial<Truth> = {},
  printed: Printed = (value) => print(value, style),
): Cell[] {
  return analysisOf(heat, said.analysis).map(([quantity, value]) =>
    cell(printed(value, quantity), { truths: [{ heat: heat.name, quantity, value, unit: "%", ...said }] }),
  );
}

function analysisOf(heat: Heat, analysis: string | undefined): readonly Analysis[] {
  return analysis === "product" ? heat.product : heat.chemistry;
}

export function tensileTitles({ style, heats }: Content, withUnit = true): string[] {
  const { strengths, elongation } = heats[0]!.tensile[0]!;
  const unit = (name: string) => (withUnit ? ` [${name}]` : "");
  return [
    ...strengths.map(([quantity]) => `${style.words.strengths[quantity as "Rm"]}${unit(style.stress)}`),
    `${style.words.elongations[elongation[0]]}${unit("%")}`,
  ];
}

export function tensileCells(heat: Heat, piece: TensilePiece, style: Style, said: Partial<Truth> = {}): Cell[] {
  const shared = { heat: heat.name, set: `${heat.name} ${heat.tensile.indexOf(piece)} tensile`, ...said };
  const [gauge, elongation] = piece.elongation;
  return [
    ...piece.strengths.map(([quantity, mpa]) => {
      const value = stressText(mpa, style);
      const truth: Truth = { ...shared, quantity, value, unit: UNIT_NAMES[style.stress] };
      return cell(print(value, style), { truths: [truth] });
    }),
    cell(print(elongation, style), { truths: [{ ...shared, quantity: gauge, value: elongation, unit: "%" }] }),
  ];
}

export function averageOf(set: ImpactSet): string {
  return (set.energies.reduce((sum, energy) => sum + energy, 0) / set.energies.length).toFixed(0);
}

/** What holds for every piece of one set; the temperature is -196 °C where nothing else is said. */
export function impactTruth(
  heat: Heat,
  set: ImpactSet,
  said: Partial<Truth> = {},
): Omit<Truth, "quantity" | "value" | "unit"> {
  const name = [heat.name, heat.impact.indexOf(set), Object.values(said).join(" ")].join(" ");
  return { heat: heat.name, temperature: "-196 °C", zone: set.zone, set: name, ...said };
}

export function energyCells(heat: Heat, set: ImpactSet, said: Partial<Truth> = {}): Cell[] {
  const shared = impactTruth(heat, set, said);
  return set.energies.map((energy) =>
    cell(String(energy), { truths: [{ ...shared, quantity: "KV", value: String(energy), unit: "J" }] }),
  );
}

export function averageCell(heat: Heat, set: ImpactSet, said: Partial<Truth> = {}): Cell {
  const value = averageOf(set);
  const shared = impactTruth(heat, set, said);
  return cell(value, { truths: [{ ...shared, quantity: "KV", value, unit: "J", average: true }] });
}

export function expansionCells(heat: Heat, set: ImpactSet, style: Style, said: Partial<Truth> = {}): Cell[] {
  const shared = impactTruth(heat, set, said);
  return set.expansions.map((value) =>
    cell(print(value, style), { truths: [{ ...shared, quantity: "LE", value, unit: "mm" }] }),
  );
}

export function shearCells(heat: Heat, set: ImpactSet, said: Partial<Truth> = {}): Cell[] {
  const shared = impactTruth(heat, set, said);
  return set.shears.map((shear) =>
    cell(String(shear), { truths: [{ ...shared, quantity: "SFA", value: String(shear), unit: "%" }] }),
  );
}

/** The cell on a paper that does not say these things of its results. */
export function unsaid(drawn: Cell, ...names: readonly (keyof Truth)[]): Cell {
  const keep = ([name]: [string, unknown]) => !names.includes(name as keyof Truth);
  return {
    ...drawn,
    truths: drawn.truths.map((truth) => Object.fromEntries(Object.entries(truth).filter(keep)) as Truth),
  };
}
