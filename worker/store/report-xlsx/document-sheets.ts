import type { Workbook } from "exceljs";
import { placeText } from "../../../core/report/place-text.js";
import type { Report, ReportDocument } from "../../../core/report/report.js";
import { addTableSheet, type SheetColumn } from "./cells.js";

/** What the verdict rests on besides the readings: documents, doubts, and the files that limits were taken from. */
export function addDocumentSheets(workbook: Workbook, report: Report): void {
  addTableSheet(workbook, "Documents", DOCUMENT_COLUMNS, report.documents);
  addTableSheet(
    workbook,
    "Doubts",
    DOUBT_COLUMNS,
    report.documents.flatMap((document) => document.doubts.map((doubt) => ({ document, doubt, report }))),
  );
  addTableSheet(workbook, "Library", LIBRARY_COLUMNS, report.library);
}

const DOCUMENT_COLUMNS: readonly SheetColumn<ReportDocument>[] = [
  { heading: "Document", width: 30, cell: ({ name }) => name },
  { heading: "SHA-256", width: 68, cell: ({ sha256 }) => sha256 },
  { heading: "Read as", width: 10, cell: ({ reader }) => reader },
  { heading: "Pages or sheets", width: 9, cell: ({ pages }) => pages },
  { heading: "Type", width: 8, cell: ({ type }) => type },
  { heading: "Number", width: 16, cell: ({ number }) => number },
  { heading: "Issuer", width: 26, cell: ({ issuer }) => issuer },
  { heading: "Date", width: 12, cell: ({ date }) => date },
  { heading: "Order", width: 16, cell: ({ order }) => order },
  { heading: "Notes", width: 40, cell: ({ notes }) => notes?.join("; ") },
];

interface DoubtRow {
  readonly document: ReportDocument;
  readonly doubt: ReportDocument["doubts"][number];
  readonly report: Report;
}

const DOUBT_COLUMNS: readonly SheetColumn<DoubtRow>[] = [
  { heading: "Document", width: 30, cell: ({ document }) => document.name },
  { heading: "Where", width: 38, cell: ({ doubt, report }) => doubt.evidence && placeText(doubt.evidence, report) },
  { heading: "Heat", width: 12, cell: ({ doubt }) => doubt.heat },
  { heading: "Quantity", width: 11, cell: ({ doubt }) => doubt.quantity },
  { heading: "Code", width: 22, cell: ({ doubt }) => doubt.code },
  { heading: "Doubt", width: 70, cell: ({ doubt }) => doubt.message },
];

const LIBRARY_COLUMNS: readonly SheetColumn<Report["library"][number]>[] = [
  { heading: "File", width: 44, cell: ({ id }) => id },
  { heading: "SHA-256", width: 76, cell: ({ digest }) => digest },
];
