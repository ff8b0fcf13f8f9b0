import type { Fill, Workbook, Worksheet } from "exceljs";
import { showUnprintable } from "../../../core/report/printable.js";
import type { Outcome } from "../../../core/verdict/finding.js";

export interface SheetColumn<Row> {
  readonly heading: string;
  readonly width: number;
  readonly cell: (row: Row) => SheetValue;
}

/** A decimal as text becomes a number cell with its own digits; any other text stays text. */
export type SheetValue =
  | string
  | number
  | undefined
  | { readonly decimal: string | undefined }
  | { readonly outcome: Outcome };

/** A sheet with one heading row that stays in sight and is repeated on paper. */
export function addTableSheet<Row>(
  workbook: Workbook,
  name: string,
  columns: readonly SheetColumn<Row>[],
  rows: readonly Row[],
): Worksheet {
  const sheet = workbook.addWorksheet(name, {
    views: [{ state: "frozen", ySplit: 1 }],
    pageSetup: { orientation: "landscape", fitToPage: true, fitToWidth: 1, fitToHeight: 0, printTitlesRow: "1:1" },
  });
  sheet.columns = columns.map(({ heading, width }) => ({ header: heading, width }));
  sheet.getRow(1).font = { bold: true };
  sheet.getRow(1).alignment = { vertical: "bottom", wrapText: true };
  rows.forEach((row, index) => {
    columns.forEach((column, position) => {
      setCell(sheet, index + 2, position + 1, column.cell(row));
    });
  });
  if (rows.length > 0) {
    sheet.autoFilter = { from: { row: 1, column: 1 }, to: { row: rows.length + 1, column: columns.length } };
  }
  return sheet;
}

export function setCell(sheet: Worksheet, row: number, column: number, value: SheetValue): void {
  if (value === undefined) return;
  const cell = sheet.getCell(row, column);
  cell.alignment = { vertical: "top", wrapText: true };
  if (typeof value === "number") {
    cell.value = value;
  } else if (typeof value === "string") {
    cell.value = safeText(value);
  } else if ("outcome" in value) {
    cell.value = value.outcome;
    cell.font = { bold: value.outcome !== "not-applicable", color: { argb: "FF15181C" } };
    cell.fill = FILLS[value.outcome];
  } else if (value.decimal !== undefined) {
    setDecimal(sheet, row, column, value.decimal);
  }
}

/** A spreadsheet keeps 15 digits: what would lose some stays text. */
const EXACT_DIGITS = 15;

function setDecimal(sheet: Worksheet, row: number, column: number, text: string): void {
  const cell = sheet.getCell(row, column);
  const match = /^-?(\d+)(?:[.](\d+))?$/.exec(text);
  if (!match || text.replace(/\D/g, "").length > EXACT_DIGITS) {
    cell.value = safeText(text);
    return;
  }
  const places = match[2]?.length ?? 0;
  cell.value = Number(text);
  cell.numFmt = places === 0 ? "0" : `0.${"0".repeat(places)}`;
}

/** The most that one cell may hold. */
const LONGEST_TEXT = 32_767;
const CUT = " … (cut)";

/**
 * Text that a spreadsheet would take for a formula once somebody edits the cell or saves it as CSV gets an apostrophe in
 * front, as a person would type it. A plain number with its sign stays as it is.
 */
export function safeText(text: string): string {
  const shown = showUnprintable(text);
  const guarded = /^[\s]*[=+\-@|%\t\r\n]/.test(shown) && !/^[+-]?[\d.,]+$/.test(shown) ? `'${shown}` : shown;
  return guarded.length <= LONGEST_TEXT ? guarded : guarded.slice(0, LONGEST_TEXT - CUT.length) + CUT;
}

/** Light enough for dark text, and told apart in grey; the word stands in the cell anyway. */
const FILLS: Readonly<Record<Outcome, Fill>> = {
  fail: solid("FFF2B8B5"),
  undetermined: solid("FFFBE3B0"),
  pass: solid("FFD5EFD9"),
  "not-applicable": solid("FFFFFFFF"),
};

function solid(argb: string): Fill {
  return { type: "pattern", pattern: "solid", fgColor: { argb } };
}
