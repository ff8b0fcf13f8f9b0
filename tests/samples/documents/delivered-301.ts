import { row, workbookBytes } from "../sheet.js";
import { norrvikWorkbook } from "./norrvik.js";
import { A240_304L, analysis, TENSILE_TITLES } from "./norrvik-304l.js";

/** The form says 304L; the analysis is that of a 301. */
export function delivered301(): Promise<Uint8Array> {
  const workbook = norrvikWorkbook({
    ...A240_304L,
    number: "NS-88377",
    date: new Date(Date.UTC(2026, 1, 19)),
    order: "T-204 / 4",
    product: "Hot rolled plate",
    dimensions: "12 x 2500 x 6000 mm",
    analyses: [analysis("N42219", 0.104, 0.55, 1.21, 0.031, 0.001, 17.05, 7.12, 0.041)],
    tensileTitles: TENSILE_TITLES,
    tensile: [["N42219", "42219-01", ...row(0, 298, 341, 742, 58, 183)]],
  });
  return workbookBytes(workbook);
}
