import type { Workbook } from "exceljs";
import { newWorkbook, put, row, ruled, shown, workbookBytes } from "../sheet.js";

/** A stockholder's own workbook: several heats of several grades, chemistry and tests on sheets of their own, a hidden sheet. */
export function mixedWorkbook(): Promise<Uint8Array> {
  const workbook = newWorkbook("Brackwater Metals");
  coverSheet(workbook);
  chemistrySheet(workbook);
  mechanicalSheet(workbook);
  const prices = workbook.addWorksheet("Prices", { state: "hidden" });
  ruled(prices, 1, [
    ["Heat", "Price per t"],
    ["S10011", shown(3120, 0)],
  ]);
  return workbookBytes(workbook);
}

function coverSheet(workbook: Workbook): void {
  const sheet = workbook.addWorksheet("Cover");
  sheet.columns = [{ width: 22 }, { width: 60 }];
  put(sheet, "A1", "Brackwater Metals, stockholders", { bold: true, size: 14 });
  const facts = [
    ["Collective certificate", "BM-5530"],
    ["Document type", "EN 10204 3.1"],
    ["Date", "2026-03-02"],
    ["Customer", "Tarnholm Cryogenics"],
    ["Customer order", "T-204 / 9"],
  ];
  facts.forEach(([label, value], index) => {
    put(sheet, `A${3 + index}`, label, { bold: true });
    put(sheet, `B${3 + index}`, value);
  });
}

function chemistrySheet(workbook: Workbook): void {
  const sheet = workbook.addWorksheet("Chemistry");
  sheet.columns = Array.from({ length: 13 }, () => ({ width: 11 }));
  put(sheet, "A1", "Ladle analysis", { bold: true });
  ruled(
    sheet,
    3,
    [
      ["Heat", "Grade", "Thickness", "Chemical composition, % by mass"],
      [undefined, undefined, "mm", "C", "Si", "Mn", "P", "S", "Cr", "Ni", "Mo", "Ti", "N"],
      heat("S10011", "ASTM A240 304L", 10, [0.019, 0.44, 1.62, 0.03, 0.002, 18.21, 8.1, 0.19, 0.003, 0.07]),
      heat("S10012", "ASTM A240 304L", 10, [0.022, 0.4, 1.58, 0.047, 0.003, 18.09, 8.05, 0.22, 0.004, 0.074]),
      heat("S10013", "ASTM A240 316L", 8, [0.017, 0.51, 1.33, 0.032, 0.001, 16.72, 10.08, 2.04, 0.002, 0.045]),
      heat("S10014", "ASTM A240 321", 8, [0.043, 0.48, 1.41, 0.028, 0.002, 17.36, 9.11, 0.24, 0.41, 0.012]),
    ],
    2,
  );
  for (const column of ["A", "B"]) sheet.mergeCells(`${column}3:${column}4`);
  sheet.mergeCells("D3:M3");
}

function heat(name: string, grade: string, thicknessMm: number, percent: readonly number[]) {
  const places = [3, 2, 2, 3, 3, 2, 2, 2, 3, 3];
  return [name, grade, shown(thicknessMm, 0), ...percent.map((value, index) => shown(value, places[index]!))];
}

function mechanicalSheet(workbook: Workbook): void {
  const sheet = workbook.addWorksheet("Mechanical");
  sheet.columns = Array.from({ length: 6 }, () => ({ width: 13 }));
  put(sheet, "A1", "Tensile tests at room temperature, transverse, and hardness", { bold: true });
  ruled(
    sheet,
    3,
    [
      ["Heat", "Rp0.2", "Rm", "A50", "Hardness"],
      [undefined, "N/mm²", "N/mm²", "%", "HB"],
      ["S10011", ...row(0, 281, 603, 56, 166)],
      ["S10012", ...row(0, 290, 611, 55, 170)],
      ["S10013", ...row(0, 277, 589, 54, 159)],
      // The elongation of this heat was left out.
      ["S10014", ...row(0, 251, 577), undefined, shown(162, 0)],
    ],
    2,
  );
}
