import type { Workbook } from "exceljs";
import { newWorkbook, put, row, ruled, shown, workbookBytes } from "../sheet.js";
import { norrvikWorkbook } from "./norrvik.js";
import { A240_304L, analysis, TENSILE_TITLES } from "./norrvik-304l.js";

/** The mill certificate of the plate that the welding procedure was tested on: nothing wrong with it. */
export function hazPlateCertificate(): Promise<Uint8Array> {
  const workbook = norrvikWorkbook({
    ...A240_304L,
    number: "NS-88402",
    date: new Date(Date.UTC(2026, 1, 23)),
    order: "T-204 / 2",
    product: "Hot rolled plate",
    dimensions: "14 x 2500 x 6000 mm",
    analyses: [analysis("N43310", 0.021, 0.39, 1.48, 0.027, 0.001, 18.31, 8.12, 0.066)],
    tensileTitles: TENSILE_TITLES,
    tensile: [["N43310", "43310-02", ...row(0, 279, 314, 604, 58, 165)]],
  });
  return workbookBytes(workbook);
}

/** The laboratory's workbook: one sheet for each place that the notches were cut. */
export function hazImpactRecord(): Promise<Uint8Array> {
  const workbook = newWorkbook("Calder Test House");
  coverSheet(workbook);
  zoneSheet(workbook, "Base metal", "Base metal", "B", [132, 127, 139], [1.61, 1.55, 1.7]);
  zoneSheet(workbook, "Weld metal", "Weld metal, centre line", "W", [71, 64, 68], [0.74, 0.66, 0.7]);
  zoneSheet(workbook, "HAZ", "Heat-affected zone, fusion line + 1 mm", "H", [84, 38, 61], [0.88, 0.41, 0.63]);
  return workbookBytes(workbook);
}

function coverSheet(workbook: Workbook): void {
  const sheet = workbook.addWorksheet("Report");
  sheet.columns = [{ width: 24 }, { width: 48 }];
  put(sheet, "A1", "CALDER TEST HOUSE", { bold: true, size: 16 });
  put(sheet, "A2", "Mechanical testing laboratory");
  const facts = [
    ["Report No.", "CTH-0311"],
    ["Date", "2026-03-12"],
    ["Client", "Tarnholm Cryogenics"],
    ["Purchase order", "T-204 / W"],
    ["Weld procedure", "WPQR T204-05, joint 14 mm, GTAW"],
    ["Heat No.", "N43310"],
    ["Test method", "ISO 148-1, Charpy V, striker 8 mm"],
    ["Cooling", "Liquid nitrogen, ten minutes at temperature"],
  ];
  facts.forEach(([label, value], index) => {
    put(sheet, `A${4 + index}`, label, { bold: true });
    put(sheet, `B${4 + index}`, value);
  });
  put(sheet, "A13", "Results apply to the test pieces only.", { italic: true });
  put(sheet, "A15", "R. Osei, laboratory manager", { italic: true });
}

function zoneSheet(
  workbook: Workbook,
  name: string,
  location: string,
  letter: string,
  energies: readonly number[],
  expansions: readonly number[],
): void {
  const sheet = workbook.addWorksheet(name);
  sheet.columns = [{ width: 16 }, ...Array.from({ length: 6 }, () => ({ width: 18 }))];
  put(sheet, "A1", "Impact test", { bold: true, size: 13 });
  put(sheet, "A2", "Notch location", { bold: true });
  put(sheet, "B2", location);
  put(sheet, "A3", "Heat No.", { bold: true });
  put(sheet, "B3", "N43310");
  put(sheet, "A4", "Test temperature", { bold: true });
  put(sheet, "B4", "-196 °C");
  ruled(sheet, 6, [
    ["Specimen", "Size mm", "KV8 J", "Lateral expansion mm", "Shear %"],
    ...energies.map((energy, index) => [
      `T204-05-${letter}${index + 1}`,
      "10 x 10 x 55",
      shown(energy, 0),
      shown(expansions[index]!, 2),
      ...row(0, Math.round(energy / 2)),
    ]),
  ]);
}
