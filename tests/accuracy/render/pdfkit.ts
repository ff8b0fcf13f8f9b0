import { drawPdf, type Pdf } from "../../worker/readers/pdf/draw-page.js";
import type { Cell, Paper, PlacedCell, Table } from "../paper.js";
import type { Renderer, Spot } from "./rendered.js";

const RULINGS = ["all", "columns", "rows", "none"] as const;
type Ruling = (typeof RULINGS)[number];

const MARGIN = 30;
const PADDING = 8;
const ROW_HEIGHT = 15;
const FONT_SIZE = 7;
const BETWEEN_TABLES = 24;
/** Helvetica's capitals and digits are at most this wide, as a share of the type size. */
const LETTER_WIDTH = 0.6;

/** As mills print: columns as wide as their widest text, and type as small as the widest table asks for; as many pages as it takes. */
export const renderPdfkit: Renderer = async (paper, random) => {
  const ruling = random.pick(RULINGS);
  const isWide = widestOf(paper) > 530;
  const size = isWide ? { width: 1190, height: 842 } : { width: 595, height: 842 };
  const spots: Spot[] = [];
  const bytes = await drawPdf(
    (pdf) => drawPaper({ pdf, spots, ruling, bottom: size.height - MARGIN, width: size.width - 2 * MARGIN }, paper),
    isWide ? { size: "A3", layout: "landscape" } : {},
  );
  return { name: "paper.pdf", bytes, spots };
};

interface Sheet {
  readonly pdf: Pdf;
  readonly spots: Spot[];
  readonly ruling: Ruling;
  /** Where the page ends and how wide it is, in points. */
  readonly bottom: number;
  readonly width: number;
}

function drawPaper(sheet: Sheet, { parts }: Paper): void {
  const { pdf, spots } = sheet;
  let page = 1;
  let y = 40;
  let table = 0;
  const nextPage = () => {
    pdf.addPage();
    page += 1;
    y = 40;
  };
  const write = (cell: Cell, x: number, width: number) => {
    pdf.text(cell.text, x, y, { lineBreak: false });
    spots.push({ cell, table, area: { page, left: x, top: y - 2, right: x + width, bottom: y + 11 } });
  };
  for (const part of parts) {
    if (y > sheet.bottom - 60) nextPage();
    pdf.fontSize(8);
    if (part.kind === "sheet") {
      pdf.text(part.name, MARGIN, y, { lineBreak: false });
      y += 14;
    } else if (part.kind === "text") {
      write(part.cell, MARGIN, 300);
      y += 14;
    } else if (part.kind === "fields") {
      for (const [label, value] of part.pairs) {
        write(label, MARGIN, 120);
        write(value, 160, 200);
        y += 13;
      }
      y += 8;
    } else {
      const height = ROW_HEIGHT * Math.max(...part.tables.map((one) => Math.min(one.height, 12)));
      if (y + height > sheet.bottom) nextPage();
      const start = { page, y };
      let left = MARGIN;
      const free = sheet.width - BETWEEN_TABLES * (part.tables.length - 1);
      const natural = part.tables.reduce((sum, one) => sum + naturalWidth(one), 0);
      const fontSize = Math.min(FONT_SIZE, (FONT_SIZE * free) / natural);
      for (const one of part.tables) {
        const widths = columnWidths(one, fontSize);
        const end = drawTable(sheet, one, { left, top: start.y, widths, fontSize, table, page: start.page });
        y = Math.max(start.page === end.page ? y : 0, end.y);
        page = end.page;
        table += 1;
        left += widths.reduce((sum, width) => sum + width, 0) + BETWEEN_TABLES;
      }
      y += 16;
    }
    table += 1;
  }
}

interface Frame {
  readonly left: number;
  readonly top: number;
  readonly widths: readonly number[];
  readonly fontSize: number;
  readonly table: number;
  readonly page: number;
}

function drawTable(sheet: Sheet, table: Table, frame: Frame): { page: number; y: number } {
  const { pdf, bottom } = sheet;
  let { page } = frame;
  let top = frame.top;
  let rows: number[] = [];
  const finish = () => {
    drawRows(sheet, table, { ...frame, top, page }, rows);
  };
  const head = Array.from({ length: table.headRows }, (_, row) => row);
  for (let row = 0; row < table.height; row++) {
    if (top + (rows.length + 1) * ROW_HEIGHT > bottom) {
      finish();
      pdf.addPage();
      page += 1;
      top = 40;
      rows = table.repeatsHead ? [...head] : [];
    }
    rows.push(row);
  }
  finish();
  return { page, y: top + rows.length * ROW_HEIGHT };
}

function drawRows(
  { pdf, spots, ruling }: Sheet,
  { cells, headRows }: Table,
  frame: Frame,
  rows: readonly number[],
): void {
  const { left, top, widths, fontSize, table, page } = frame;
  const edges = [left];
  for (const width of widths) edges.push(edges.at(-1)! + width);
  const [right, end] = [edges.at(-1)!, top + rows.length * ROW_HEIGHT];
  pdf.fontSize(fontSize);
  for (const { cell, row, column } of cells) {
    const at = rows.indexOf(row);
    if (at < 0) continue;
    const box = {
      left: edges[column]!,
      right: edges[column + cell.columns]!,
      top: top + at * ROW_HEIGHT,
      bottom: top + (at + cell.rows) * ROW_HEIGHT,
    };
    if (cell.text !== "") writeCentred(pdf, cell.text, box);
    if (ruling === "all") pdf.rect(box.left, box.top, box.right - box.left, box.bottom - box.top).stroke();
    spots.push({ cell, table, area: { page, ...box } });
  }
  const line = (x1: number, y1: number, x2: number, y2: number): void => {
    pdf.moveTo(x1, y1).lineTo(x2, y2).stroke();
  };
  if (ruling === "rows") for (let y = top; y < end; y += ROW_HEIGHT) line(left, y, right, y);
  if (ruling === "rows" || ruling === "columns") line(left, end, right, end);
  if (ruling === "columns") {
    line(left, top, right, top);
    const underTitles = top + Math.max(1, headRows) * ROW_HEIGHT;
    line(left, underTitles, right, underTitles);
    for (const x of edges) line(x, top, x, end);
  }
}

type Box = Readonly<Record<"left" | "right" | "top" | "bottom", number>>;

function writeCentred(pdf: Pdf, text: string, { left, right, top, bottom }: Box): void {
  const x = left + (right - left - pdf.widthOfString(text)) / 2;
  pdf.text(text, x, top + (bottom - top - pdf.currentLineHeight()) / 2, { lineBreak: false });
}

function columnWidths({ cells, width }: Table, fontSize: number): number[] {
  const widths = Array.from({ length: width }, () => 3 * PADDING);
  const needed = ({ cell }: PlacedCell) => cell.text.length * fontSize * LETTER_WIDTH + PADDING;
  for (const placed of cells) {
    const { columns } = placed.cell;
    for (let at = placed.column; at < placed.column + columns; at++) {
      widths[at] = Math.max(widths[at]!, needed(placed) / columns);
    }
  }
  return widths;
}

function naturalWidth(table: Table): number {
  return columnWidths(table, FONT_SIZE).reduce((sum, width) => sum + width, 0);
}

function widestOf({ parts }: Paper): number {
  const widths = parts.flatMap((part) =>
    part.kind === "tables"
      ? [part.tables.reduce((sum, table) => sum + naturalWidth(table) + BETWEEN_TABLES, -BETWEEN_TABLES)]
      : [],
  );
  return Math.max(0, ...widths);
}
