import { row, shown } from "../sheet.js";

/** What Norrvik prints above its results for 304L plate to ASTM A240/A240M. */
export const A240_304L = {
  specification: "ASTM A240/A240M-20 Type 304L (UNS S30403)",
  elements: ["C", "Si", "Mn", "P", "S", "Cr", "Ni", "N"],
  specifiedMin: [undefined, undefined, undefined, undefined, undefined, shown(17.5, 1), shown(8, 1), undefined],
  specifiedMax: [...row(3, 0.03), ...row(2, 0.75, 2), ...row(3, 0.045, 0.03), ...row(1, 19.5, 12), shown(0.1, 2)],
  tensileMin: [undefined, shown(170, 0), undefined, shown(485, 0), shown(40, 0), "max 201"],
} as const;

/** C, Si, Mn, P, S, Cr, Ni, N with the places that the mill prints each with. */
export function analysis(heat: string, ...percent: readonly number[]) {
  const places = [3, 2, 2, 3, 3, 2, 2, 3];
  return [heat, ...percent.map((value, index) => shown(value, places[index]!))];
}

export const TENSILE_TITLES = ["Heat No.", "Plate No.", "Rp0.2 MPa", "Rp1.0 MPa", "Rm MPa", "A50 mm %", "HBW"] as const;
