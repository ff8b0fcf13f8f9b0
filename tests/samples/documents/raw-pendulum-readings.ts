import type { Workbook } from "exceljs";
import { newWorkbook, put, row, ruled, shown, workbookBytes } from "../sheet.js";
import { norrvikWorkbook } from "./norrvik.js";
import { A240_304L, analysis, TENSILE_TITLES } from "./norrvik-304l.js";

/** The mill certificate of the plate that was welded: nothing wrong with it. */
export function pendulumPlateCertificate(): Promise<Uint8Array> {
  const workbook = norrvikWorkbook({
    ...A240_304L,
    number: "NS-88436",
    date: new Date(Date.UTC(2026, 3, 14)),
    order: "T-204 / 10",
    product: "Hot rolled plate",
    dimensions: "12 x 2500 x 6000 mm",
    analyses: [analysis("N43391", 0.02, 0.4, 1.5, 0.028, 0.001, 18.26, 8.14, 0.064)],
    tensileTitles: TENSILE_TITLES,
    tensile: [["N43391", "43391-01", ...row(0, 282, 316, 608, 57, 166)]],
  });
  return workbookBytes(workbook);
}

/** One row of the laboratory's sheet: rise angle, bath, transfer time, the four halves of lateral expansion, cleavage patch. */
interface Piece {
  readonly angle: number;
  readonly bathC: number;
  readonly seconds: number;
  readonly halvesMm: readonly [number, number, number, number];
  readonly patchMm: readonly [number, number];
}

const PIECES: Readonly<Record<string, readonly Piece[]>> = {
  "Base metal": [
    { angle: 86.4, bathC: -196, seconds: 2.6, halvesMm: [0.78, 0.71, 0.69, 0.8], patchMm: [3.1, 2.4] },
    { angle: 88.1, bathC: -195.8, seconds: 2.9, halvesMm: [0.74, 0.7, 0.72, 0.77], patchMm: [3.3, 2.6] },
    { angle: 83.9, bathC: -196, seconds: 2.4, halvesMm: [0.83, 0.76, 0.75, 0.81], patchMm: [2.9, 2.2] },
  ],
  "Weld metal": [
    { angle: 114.2, bathC: -196, seconds: 2.7, halvesMm: [0.35, 0.31, 0.33, 0.3], patchMm: [5.2, 4.9] },
    { angle: 116.5, bathC: -195.9, seconds: 2.5, halvesMm: [0.31, 0.33, 0.3, 0.28], patchMm: [5.6, 5.1] },
    { angle: 112.8, bathC: -196, seconds: 3.1, halvesMm: [0.36, 0.34, 0.31, 0.35], patchMm: [5, 4.7] },
  ],
  // The bath had not settled: 5 °C too warm, which the energies alone would not show.
  HAZ: [
    { angle: 104.3, bathC: -191, seconds: 2.8, halvesMm: [0.5, 0.47, 0.46, 0.52], patchMm: [4.1, 3.6] },
    { angle: 101.7, bathC: -190.8, seconds: 2.6, halvesMm: [0.55, 0.49, 0.51, 0.53], patchMm: [3.9, 3.5] },
    { angle: 106, bathC: -191.1, seconds: 2.7, halvesMm: [0.47, 0.45, 0.44, 0.49], patchMm: [4.4, 3.8] },
  ],
};

/** Dial and gauge readings of a welding procedure test; energies, expansions and shear are for whoever reduces them. */
export function rawPendulumReadings(): Promise<Uint8Array> {
  const workbook = newWorkbook("Calder Test House");
  pieceSheet(workbook);
  return workbookBytes(workbook);
}

function pieceSheet(workbook: Workbook): void {
  const sheet = workbook.addWorksheet("Pendulum readings");
  sheet.columns = [{ width: 22 }, ...Array.from({ length: 11 }, () => ({ width: 15 }))];
  const facts: readonly (readonly [string, string])[] = [
    ["Report No.", "CTH-0360"],
    ["Client", "Tarnholm Cryogenics"],
    ["Heat No.", "N43391"],
    ["Standard", "ASTM E23"],
    ["Specified temperature", "-196 °C"],
    ["Specimen size", "10 x 10 x 55 mm"],
    ["Striker radius", "8 mm"],
    ["Pendulum mass", "20.4 kg"],
    ["Pendulum length", "0.75 m"],
    ["Release angle", "150 °"],
    ["Nominal energy", "280 J"],
    ["Free swing β1, with pointer", "149.3 °"],
    ["Free swing β2, without pointer", "149.5 °"],
    ["Free swing β3, ten half swings", "147.8 °"],
  ];
  facts.forEach(([label, value], index) => {
    put(sheet, `A${1 + index}`, label, { bold: true });
    put(sheet, `B${1 + index}`, value);
  });
  const titles = ["Specimen", "Notch location", "Bath temperature °C", "Rise angle °", "Transfer time s"];
  const measured = ["A1 mm", "A2 mm", "A3 mm", "A4 mm", "Cleavage width mm", "Cleavage depth mm"];
  const rows = Object.entries(PIECES).flatMap(([zone, pieces]) =>
    pieces.map(({ angle, bathC, seconds, halvesMm, patchMm }, index) => [
      `T204-09-${zone[0]}${index + 1}`,
      zone,
      shown(bathC, 1),
      shown(angle, 1),
      shown(seconds, 1),
      ...halvesMm.map((half) => shown(half, 2)),
      ...patchMm.map((side) => shown(side, 1)),
    ]),
  );
  ruled(sheet, 16, [[...titles, ...measured], ...rows]);
}
