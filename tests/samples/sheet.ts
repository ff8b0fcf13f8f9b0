import ExcelJS, { type Borders, type Worksheet } from "exceljs";
import { withFixedZipTimes } from "../../worker/store/zip-times.js";

/** A number with the places that the mill's own number format shows. */
export interface Shown {
  readonly value: number;
  readonly format: string;
}

export type CellContent = string | Shown | Date | undefined;

export function shown(value: number, places: number): Shown {
  return { value, format: places === 0 ? "0" : `0.${"0".repeat(places)}` };
}

/** Several numbers of one row with the same places. */
export function row(places: number, ...values: readonly number[]): Shown[] {
  return values.map((value) => shown(value, places));
}

export interface Style {
  readonly bold?: boolean;
  readonly size?: number;
  readonly italic?: boolean;
}

export function put(sheet: Worksheet, address: string, content: CellContent, { bold, size, italic }: Style = {}): void {
  const cell = sheet.getCell(address);
  if (content instanceof Date) {
    cell.value = content;
    cell.numFmt = "dd.mm.yyyy";
  } else if (typeof content === "object") {
    cell.value = content.value;
    cell.numFmt = content.format;
  } else if (content !== undefined) {
    cell.value = content;
  }
  if (bold || size || italic) {
    cell.font = { ...(bold && { bold }), ...(size && { size }), ...(italic && { italic }) };
  }
}

/** A ruled table: `head` heading rows in bold, then the rows of results. Gives back the number of the row after it. */
export function ruled(sheet: Worksheet, topRow: number, rows: readonly (readonly CellContent[])[], head = 1): number {
  rows.forEach((contents, index) => {
    contents.forEach((content, column) => {
      const cell = sheet.getRow(topRow + index).getCell(column + 1);
      put(sheet, cell.address, content, { bold: index < head });
      cell.border = THIN;
      cell.alignment = { horizontal: column === 0 ? "left" : "center", vertical: "middle", wrapText: index < head };
    });
  });
  return topRow + rows.length;
}

const THIN: Partial<Borders> = {
  top: { style: "thin" },
  bottom: { style: "thin" },
  left: { style: "thin" },
  right: { style: "thin" },
};

export function newWorkbook(author: string): ExcelJS.Workbook {
  const workbook = new ExcelJS.Workbook();
  workbook.creator = author;
  workbook.created = MADE;
  workbook.modified = MADE;
  return workbook;
}

/** Samples must come out the same every time, so their makers' clocks stand still. */
const MADE = new Date(Date.UTC(2026, 2, 2, 8, 30));

export async function workbookBytes(workbook: ExcelJS.Workbook): Promise<Uint8Array> {
  return withFixedZipTimes(new Uint8Array(await workbook.xlsx.writeBuffer()));
}
