import type { Workbook } from "exceljs";
import { groupFindings } from "../../../core/report/finding-groups.js";
import { placeText } from "../../../core/report/place-text.js";
import type { Report, ReportHeat } from "../../../core/report/report.js";
import type { Finding } from "../../../core/verdict/finding.js";
import { addTableSheet, type SheetColumn } from "./cells.js";

interface FindingRow {
  readonly heat: ReportHeat;
  readonly group: string;
  readonly finding: Finding;
  readonly report: Report;
}

/** One row per finding: value, limit, clause and the places that it rests on, side by side. */
export function addFindingSheet(workbook: Workbook, report: Report): void {
  const rows = report.heats.flatMap((heat) =>
    groupFindings(heat).flatMap(({ title, findings }) =>
      findings.map((finding): FindingRow => ({ heat, group: title, finding, report })),
    ),
  );
  addTableSheet(workbook, "Findings", COLUMNS, rows);
}

const COLUMNS: readonly SheetColumn<FindingRow>[] = [
  { heading: "Heat", width: 12, cell: ({ heat }) => heat.heat },
  { heading: "Group", width: 16, cell: ({ group }) => group },
  { heading: "Quantity", width: 11, cell: ({ finding }) => finding.quantity },
  { heading: "Outcome", width: 14, cell: ({ finding }) => ({ outcome: finding.outcome }) },
  { heading: "Reason", width: 16, cell: ({ finding }) => finding.reason },
  { heading: "Judged value", width: 10, cell: ({ finding }) => ({ decimal: finding.judged }) },
  { heading: "Unit", width: 7, cell: ({ finding }) => finding.unit },
  { heading: "Minimum", width: 10, cell: ({ finding }) => ({ decimal: finding.limit?.min }) },
  { heading: "Maximum", width: 10, cell: ({ finding }) => ({ decimal: finding.limit?.max }) },
  { heading: "Limit unit", width: 7, cell: ({ finding }) => finding.limit?.unit },
  { heading: "Margin (negative is outside)", width: 11, cell: ({ finding }) => ({ decimal: finding.margin }) },
  { heading: "Finding", width: 50, cell: ({ finding }) => finding.message },
  {
    heading: "Printed",
    width: 12,
    cell: (row) =>
      readingsOf(row)
        .map(({ printed }) => printed)
        .join("; ") || undefined,
  },
  {
    heading: "Where it stood",
    width: 34,
    cell: (row) =>
      readingsOf(row)
        .map(({ evidence }) => placeText(evidence, row.report))
        .join("; ") || undefined,
  },
  { heading: "Standard", width: 20, cell: ({ finding }) => finding.source.standard },
  { heading: "Edition", width: 12, cell: ({ finding }) => finding.source.edition },
  { heading: "Clause", width: 18, cell: ({ finding }) => finding.source.clause },
  { heading: "How the limit is known", width: 24, cell: ({ finding }) => finding.source.known },
  { heading: "Limit verified", width: 10, cell: ({ finding }) => (finding.source.verified ? "yes" : "no") },
  { heading: "Limit id", width: 28, cell: ({ finding }) => finding.limit?.id },
  { heading: "Notes", width: 40, cell: ({ finding }) => finding.notes?.join(" ") },
];

function readingsOf({ heat, finding }: FindingRow) {
  return heat.readings.filter(({ id }) => finding.readings.includes(id));
}
