import ExcelJS from "exceljs";
import { drawPdf, drawTable, drawText } from "../worker/readers/pdf/draw-page.js";
import type { DrawnCell, Paper, Part } from "./paper.js";
import type { Random } from "./random.js";

/** Draws a paper as one kind of document. The random source settles delimiters, ruling, and whether numbers are typed as numbers. */
export type Renderer = (paper: Paper, random: Random) => Promise<{ readonly name: string; readonly bytes: Buffer }>;

export const renderCsv: Renderer = async (paper, random) => {
  const delimiter = random.pick([";", "\t", ";"]);
  const lines = paper.parts.flatMap((part) => {
    if (part.kind === "text") return [part.text];
    if (part.kind === "fields") return [...part.pairs.map((pair) => pair.join(delimiter)), ""];
    return [...part.rows.map((row) => row.flatMap(spread).join(delimiter)), ""];
  });
  return { name: "paper.csv", bytes: Buffer.from(lines.join("\n")) };
};

function spread(cell: DrawnCell): string[] {
  return typeof cell === "string" ? [cell] : [cell[0], ...Array.from({ length: cell[1] - 1 }, () => "")];
}

export const renderWorkbook: Renderer = async (paper, random) => {
  const workbook = new ExcelJS.Workbook();
  const sheet = workbook.addWorksheet(random.pick(["Certificate", "Sheet1", "Results"]));
  const asNumbers = random.chance(0.6);
  let line = 1;
  for (const part of paper.parts) {
    if (part.kind === "text") sheet.getCell(line++, 1).value = part.text;
    if (part.kind === "fields") {
      for (const [label, value] of part.pairs) {
        sheet.getCell(line, 1).value = label;
        sheet.getCell(line++, 2).value = value;
      }
    }
    if (part.kind === "table") {
      for (const row of part.rows) putRow(sheet, line++, row, asNumbers);
    }
    if (part.kind !== "text") line += 1;
  }
  return { name: "paper.xlsx", bytes: Buffer.from(await workbook.xlsx.writeBuffer()) };
};

function putRow(sheet: ExcelJS.Worksheet, line: number, row: readonly DrawnCell[], asNumbers: boolean): void {
  let column = 1;
  for (const drawn of row) {
    const [text, columns] = typeof drawn === "string" ? [drawn, 1] : drawn;
    const cell = sheet.getCell(line, column);
    const number = /^-?\d+(?:[.,]\d+)?$/.test(text) ? text.replace(",", ".") : undefined;
    // A heat number of digits is typed as text, as people do who have once lost a zero.
    if (text !== "") cell.value = asNumbers && number !== undefined && column > 1 ? Number(number) : text;
    const places = number?.split(".")[1]?.length ?? 0;
    if (typeof cell.value === "number" && places > 0) cell.numFmt = `0.${"0".repeat(places)}`;
    if (columns > 1) sheet.mergeCells(line, column, line, column + columns - 1);
    column += columns;
  }
}

type Table = Extract<Part, { kind: "table" }>;

/** As mills print: columns as wide as their widest text, and type as small as the widest table asks for. */
export const renderPdf: Renderer = async (paper, random) => {
  const ruling = random.pick(["all", "columns", "rows", "none"] as const);
  const tables = paper.parts.filter((part): part is Table => part.kind === "table");
  const isWide = Math.max(...tables.map((table) => naturalWidth(table, 7))) > 530;
  const page = isWide ? 1130 : 530;
  const bytes = await drawPdf(
    (pdf) => {
      let y = 40;
      for (const part of paper.parts) {
        if (part.kind === "text") {
          drawText(pdf, part.text, 30, y);
          y += 14;
        } else if (part.kind === "fields") {
          for (const [label, value] of part.pairs) {
            drawText(pdf, label, 30, y);
            drawText(pdf, value, 160, y);
            y += 13;
          }
          y += 8;
        } else {
          const fontSize = Math.min(7, (7 * page) / naturalWidth(part, 7));
          const widths = columnWidths(part, fontSize);
          y = drawTable(pdf, { x: 30, y, widths, ruling, rows: part.rows, fontSize }) + 16;
        }
      }
    },
    isWide ? { size: "A3", layout: "landscape" } : {},
  );
  return { name: "paper.pdf", bytes };
};

const PADDING = 8;
/** Helvetica's capitals and digits are at most this wide, as a share of the type size. */
const LETTER_WIDTH = 0.6;

function columnWidths({ rows }: Table, fontSize: number): number[] {
  const columns = rows[0]!.flatMap(spread).length;
  const widths = Array.from({ length: columns }, () => 3 * PADDING);
  for (const row of rows) {
    let column = 0;
    for (const cell of row) {
      const [text, span] = typeof cell === "string" ? [cell, 1] : cell;
      const needed = (text.length * fontSize * LETTER_WIDTH + PADDING) / span;
      for (let at = column; at < column + span; at++) widths[at] = Math.max(widths[at]!, needed);
      column += span;
    }
  }
  return widths;
}

function naturalWidth(table: Table, fontSize: number): number {
  return columnWidths(table, fontSize).reduce((sum, width) => sum + width, 0);
}
