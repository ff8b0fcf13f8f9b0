import ExcelJS from "exceljs";
import { drawPdf, drawTable, drawText } from "../worker/readers/pdf/draw-page.js";
import type { DrawnCell, Paper } from "./paper.js";
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

export const renderPdf: Renderer = async (paper, random) => {
  const ruling = random.pick(["all", "columns", "rows", "none"] as const);
  const landscape =
    Math.max(...paper.parts.map((part) => (part.kind === "table" ? part.rows[0]!.flatMap(spread).length : 0))) > 9;
  const width = landscape ? 780 : 530;
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
          const columns = part.rows[0]!.flatMap(spread).length;
          const rows = part.rows;
          y = drawTable(pdf, {
            x: 30,
            y,
            widths: Array.from({ length: columns }, () => width / columns),
            ruling,
            rows,
            fontSize: columns > 12 ? 5 : columns > 7 ? 6 : 7,
          });
          y += 16;
        }
      }
    },
    landscape ? { layout: "landscape" } : {},
  );
  return { name: "paper.pdf", bytes };
};
