import { row, shown, workbookBytes } from "../sheet.js";
import { norrvikWorkbook } from "./norrvik.js";
import { A240_304L, analysis, TENSILE_TITLES } from "./norrvik-304l.js";

export function clean304lPlate(): Promise<Uint8Array> {
  const workbook = norrvikWorkbook({
    ...A240_304L,
    number: "NS-88213",
    date: new Date(Date.UTC(2026, 1, 11)),
    order: "T-204 / 1",
    product: "Hot rolled plate",
    dimensions: "12 x 2500 x 6000 mm",
    analyses: [analysis("N41827", 0.018, 0.42, 1.55, 0.029, 0.002, 18.15, 8.07, 0.072)],
    tensileTitles: TENSILE_TITLES,
    tensile: [["N41827", "41827-03", ...row(0, 286, 322, 612, 57, 168)]],
    impact: [["N41827", "41827-03", shown(-196, 0), ...row(0, 118, 124, 121, 121), ...row(2, 1.42, 1.51, 1.47)]],
  });
  return workbookBytes(workbook);
}
