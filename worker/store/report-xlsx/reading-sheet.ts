import type { Workbook } from "exceljs";
import { placeText } from "../../../core/report/place-text.js";
import type { Report, ReportHeat, ReportReading } from "../../../core/report/report.js";
import { addTableSheet, type SheetColumn } from "./cells.js";

interface ReadingRow {
  readonly heat: ReportHeat;
  readonly reading: ReportReading;
  readonly report: Report;
}

export function addReadingSheet(workbook: Workbook, report: Report): void {
  const rows = report.heats.flatMap((heat) => heat.readings.map((reading): ReadingRow => ({ heat, reading, report })));
  addTableSheet(workbook, "Readings", COLUMNS, rows);
}

const COLUMNS: readonly SheetColumn<ReadingRow>[] = [
  { heading: "Heat", width: 12, cell: ({ heat }) => heat.heat },
  { heading: "No.", width: 6, cell: ({ reading }) => reading.id },
  { heading: "Quantity", width: 11, cell: ({ reading }) => reading.quantity },
  { heading: "Printed", width: 12, cell: ({ reading }) => reading.printed },
  { heading: "Printed unit", width: 10, cell: ({ reading }) => reading.stated ?? reading.unit },
  { heading: "Bound", width: 7, cell: ({ reading }) => reading.bound },
  { heading: "Value", width: 12, cell: ({ reading }) => ({ decimal: reading.value }) },
  { heading: "Unit", width: 7, cell: ({ reading }) => reading.unit },
  { heading: "Analysis", width: 10, cell: ({ reading }) => reading.analysis },
  { heading: "Zone", width: 8, cell: ({ reading }) => reading.zone },
  { heading: "Temperature", width: 12, cell: ({ reading }) => reading.temperature },
  { heading: "Orientation", width: 14, cell: ({ reading }) => reading.orientation },
  { heading: "Test piece", width: 12, cell: ({ reading }) => reading.specimen },
  { heading: "Striker, mm", width: 8, cell: ({ reading }) => reading.striker },
  { heading: "Statistic", width: 10, cell: ({ reading }) => reading.statistic },
  { heading: "Test", width: 14, cell: ({ reading }) => reading.test },
  { heading: "Retest", width: 8, cell: ({ reading }) => (reading.retest ? "retest" : undefined) },
  { heading: "Confidence", width: 11, cell: ({ reading }) => reading.confidence },
  { heading: "Where it stood", width: 38, cell: ({ reading, report }) => placeText(reading.evidence, report) },
  { heading: "Notes", width: 40, cell: ({ reading }) => reading.notes?.join(" ") },
];
