import type { Workbook } from "exceljs";
import { correctionsText } from "../../../core/report/corrections-text.js";
import type { Report } from "../../../core/report/report.js";
import { OUTCOMES } from "../../../core/verdict/finding.js";
import { type SheetValue, setCell } from "./cells.js";

/** The first sheet: the verdict, what it was held to, each heat in one row, and the cautions. */
export function addVerdictSheet(workbook: Workbook, report: Report, digest: string | undefined): void {
  const sheet = workbook.addWorksheet("Verdict", { pageSetup: { fitToPage: true, fitToWidth: 1, fitToHeight: 0 } });
  sheet.columns = [{ width: 24 }, { width: 24 }, ...OUTCOMES.map(() => ({ width: 16 })), { width: 44 }];
  const rows = [
    ["Verdict", { outcome: report.verdict }],
    ["Requirement", report.requirement?.name ?? "none: judged by the grades that the documents claim"],
    ["Requirement digest", report.requirement?.digest],
    ["SHA-256 of the JSON report", digest],
    ["Corrections", report.corrections && correctionsText(report.corrections)],
    [],
    ["Heat", "Verdict", ...OUTCOMES.map((outcome) => `${outcome}, findings`), "Held to"],
    ...report.heats.map(({ heat, verdict, findings, grades }): SheetValue[] => [
      heat,
      { outcome: verdict },
      ...OUTCOMES.map((outcome) => findings.filter((finding) => finding.outcome === outcome).length),
      grades.map(({ standard, name, edition }) => `${standard} ${name}, edition ${edition}`).join("; "),
    ]),
    [],
    ...report.cautions.map((caution) => ["Caution", caution]),
  ] satisfies SheetValue[][];
  rows.forEach((row, index) => {
    row.forEach((value, column) => {
      setCell(sheet, index + 1, column + 1, value);
    });
    if (row[0] === "Caution") sheet.mergeCells(index + 1, 2, index + 1, OUTCOMES.length + 3);
    else if (typeof row[0] === "string" && (row.length === 2 || row[0] === "Heat"))
      sheet.getRow(index + 1).font = { bold: true };
  });
}
