import ExcelJS from "exceljs";
import type { Report } from "../../core/report/report.js";
import { addDocumentSheets } from "./report-xlsx/document-sheets.js";
import { addFindingSheet } from "./report-xlsx/finding-sheet.js";
import { addReadingSheet } from "./report-xlsx/reading-sheet.js";
import { addVerdictSheet } from "./report-xlsx/verdict-sheet.js";
import { withFixedZipTimes } from "./zip-times.js";

/**
 * The report as a workbook: numbers are numbers with the digits they were judged with, limits and evidence stand beside
 * the values, and text from outside is never a formula. Same report, same bytes.
 */
export async function renderXlsx(report: Report, digest?: string): Promise<Uint8Array> {
  const workbook = new ExcelJS.Workbook();
  workbook.creator = "Heatgate";
  // A report holds no clock; a workbook must state a time, so it states the earliest that a zip file can.
  workbook.created = EARLIEST;
  workbook.modified = EARLIEST;

  addVerdictSheet(workbook, report, digest);
  addFindingSheet(workbook, report);
  addReadingSheet(workbook, report);
  addDocumentSheets(workbook, report);
  return withFixedZipTimes(new Uint8Array(await workbook.xlsx.writeBuffer()));
}

const EARLIEST = new Date(Date.UTC(1980, 0, 1));
