import { drawPdf, type Pdf } from "../../worker/readers/pdf/draw-page.js";
import type { Cell, Paper, PlacedCell, Table } from "../paper.js";
import type { Area, Renderer, Spot } from "./rendered.js";

const RULINGS = ["all", "columns", "rows", "none"] as const;
type Ruling = (typeof RULINGS)[number];

const MARGIN = 30;
const PADDING = 8;
const ROW_HEIGHT = 15;
const FONT_SIZE = 7;
const BETWEEN_TABLES = 24;
const LINE_HEIGHT = 9;
const CONDENSED_PERCENT = 72;
/** Helvetica's capitals and digits are at most this wide, as a share of the type size. */
const LETTER_WIDTH = 0.6;

/** As mills print: columns as wide as their widest text, and type as small as the widest table asks for; as many pages as it takes. */
export const renderPdfkit: Renderer = async (paper, random) => {
  const { condensed = false, narrow = false, sideways = false, ...printing } = paper.printing ?? {};
  const { turnedTitles = false, narrowBody = false } = printing;
  const squeeze = { condensed, narrow, turnedTitles, narrowBody };
  const picked = random.pick(RULINGS);
  const ruling = printing.ruling ?? picked;
  const isWide = widestOf(paper, squeeze) > 530;
  const size = isWide ? { width: 1190, height: 842 } : { width: 595, height: 842 };
  const spots: Spot[] = [];
  const bytes = await drawPdf(
    (pdf) => {
      if (sideways) pdf.on("pageAdded", () => layOnSide(pdf));
      if (sideways) layOnSide(pdf);
      const bottom = size.height - MARGIN;
      drawPaper({ pdf, spots, ruling, ...squeeze, bottom, width: size.width - 2 * MARGIN }, paper);
    },
    isWide ? { size: "A3", layout: "landscape" } : {},
  );
  return { name: "paper.pdf", bytes, spots, ...(sideways ? { toPlane: (area) => standUp(area, size.height) } : {}) };
};

/** The page is shown a quarter turned clockwise. */
function layOnSide({ page }: Pdf): void {
  (page.dictionary as unknown as { data: Record<string, unknown> }).data.Rotate = 90;
}

/** From the page as shown to the page as drawn. */
function standUp({ page, left, right, top, bottom }: Area, height: number): Area {
  return { page, left: top, right: bottom, top: height - right, bottom: height - left };
}

interface Sheet {
  readonly pdf: Pdf;
  readonly spots: Spot[];
  readonly ruling: Ruling;
  readonly condensed: boolean;
  /** Titles are broken into lines. */
  readonly narrow: boolean;
  /** The last row of titles is written upwards. */
  readonly turnedTitles: boolean;
  /** Long texts below the titles are broken into lines. */
  readonly narrowBody: boolean;
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
    if (part.kind === "page") {
      nextPage();
    } else if (part.kind === "sheet") {
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
      const natural = part.tables.reduce((sum, one) => sum + naturalWidth(one, sheet), 0);
      const fontSize = Math.min(FONT_SIZE, (FONT_SIZE * free) / natural);
      for (const one of part.tables) {
        const widths = columnWidths(one, fontSize, sheet);
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
    if (top + heightOf([...rows, row], table, sheet) > bottom) {
      finish();
      pdf.addPage();
      page += 1;
      top = 40;
      rows = table.repeatsHead ? [...head] : [];
    }
    rows.push(row);
  }
  finish();
  return { page, y: top + heightOf(rows, table, sheet) };
}

/** Of rows under each other: as high as the lines of their titles ask for. */
function heightOf(rows: readonly number[], table: Table, sheet: Squeeze): number {
  const lines = (row: number) =>
    Math.max(...table.cells.map((placed) => (placed.row === row ? linesOf(placed, table, sheet).length : 1)));
  const letters = (row: number) =>
    Math.max(...table.cells.map((placed) => (placed.row === row ? placed.cell.text.length : 1)));
  return rows.reduce(
    (sum, row) =>
      sum +
      (isTurned(row, table, sheet)
        ? letters(row) * FONT_SIZE * LETTER_WIDTH + 2 * PADDING
        : ROW_HEIGHT + (lines(row) - 1) * LINE_HEIGHT),
    0,
  );
}

function isTurned(row: number, { headRows }: Table, { turnedTitles }: Squeeze): boolean {
  return turnedTitles && row === headRows - 1;
}

const BODY_LETTERS = 16;

function linesOf({ cell, row }: PlacedCell, { headRows }: Table, { narrow, narrowBody }: Squeeze): string[] {
  if (narrow && row < headRows) return titleLines(cell);
  return narrowBody && row >= headRows ? bodyLines(cell) : [cell.text];
}

function bodyLines({ text }: Cell): string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const longer = `${lines.at(-1)} ${word}`;
    if (lines.length > 0 && longer.length <= BODY_LETTERS) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/** A title's words, each on a line of its own; short ones go with the word before. */
function titleLines({ text }: Cell): string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const before = lines.at(-1);
    if (before !== undefined && word.length <= 4) lines[lines.length - 1] = `${before} ${word}`;
    else lines.push(word);
  }
  return lines;
}

function drawRows(sheet: Sheet, table: Table, frame: Frame, rows: readonly number[]): void {
  const { pdf, spots, ruling } = sheet;
  const { cells, headRows } = table;
  const { left, top, widths, fontSize, page } = frame;
  const edges = [left];
  for (const width of widths) edges.push(edges.at(-1)! + width);
  const tops = [0, ...rows.map((_, at) => at + 1)].map((count) => top + heightOf(rows.slice(0, count), table, sheet));
  const [right, end] = [edges.at(-1)!, tops.at(-1)!];
  pdf.fontSize(fontSize);
  for (const placed of cells) {
    const { cell, row, column } = placed;
    const at = rows.indexOf(row);
    if (at < 0) continue;
    const box = {
      left: edges[column]!,
      right: edges[column + cell.columns]!,
      top: tops[at]!,
      bottom: tops[at + cell.rows]!,
    };
    if (cell.text !== "" && isTurned(row, table, sheet)) writeUpwards(sheet, cell.text, box);
    else if (cell.text !== "") writeCentred(sheet, linesOf(placed, table, sheet), box);
    if (ruling === "all") pdf.rect(box.left, box.top, box.right - box.left, box.bottom - box.top).stroke();
    spots.push({ cell, table: frame.table, area: { page, ...box } });
  }
  const line = (x1: number, y1: number, x2: number, y2: number): void => {
    pdf.moveTo(x1, y1).lineTo(x2, y2).stroke();
  };
  if (ruling === "rows") for (const y of tops.slice(0, -1)) line(left, y, right, y);
  if (ruling === "rows" || ruling === "columns") line(left, end, right, end);
  if (ruling === "columns") {
    line(left, top, right, top);
    const underTitles = tops[Math.max(1, headRows)]!;
    line(left, underTitles, right, underTitles);
    for (const x of edges) line(x, top, x, end);
  }
}

type Box = Readonly<Record<"left" | "right" | "top" | "bottom", number>>;

function writeCentred({ pdf, condensed }: Sheet, lines: readonly string[], { left, right, top, bottom }: Box): void {
  const scaling = condensed ? CONDENSED_PERCENT : 100;
  const first = (top + bottom - pdf.currentLineHeight() - (lines.length - 1) * LINE_HEIGHT) / 2;
  lines.forEach((text, index) => {
    const x = left + (right - left - (pdf.widthOfString(text) * scaling) / 100) / 2;
    pdf.text(text, x, first + index * LINE_HEIGHT, {
      lineBreak: false,
      ...(condensed ? { horizontalScaling: scaling } : {}),
    });
  });
}

function writeUpwards({ pdf }: Sheet, text: string, { left, right, bottom }: Box): void {
  const x = (left + right - pdf.currentLineHeight()) / 2;
  const y = bottom - PADDING;
  pdf
    .save()
    .rotate(-90, { origin: [x, y] })
    .text(text, x, y, { lineBreak: false })
    .restore();
}

type Squeeze = Pick<Sheet, "condensed" | "narrow" | "turnedTitles" | "narrowBody">;

function columnWidths(table: Table, fontSize: number, squeeze: Squeeze): number[] {
  const { cells, width } = table;
  const widths = Array.from({ length: width }, () => 3 * PADDING);
  const letters = (placed: PlacedCell) =>
    isTurned(placed.row, table, squeeze) ? 2 : Math.max(...linesOf(placed, table, squeeze).map(({ length }) => length));
  const letter = LETTER_WIDTH * (squeeze.condensed ? CONDENSED_PERCENT / 100 : 1);
  const needed = (placed: PlacedCell) => letters(placed) * fontSize * letter + PADDING;
  for (const placed of cells) {
    const { columns } = placed.cell;
    for (let at = placed.column; at < placed.column + columns; at++) {
      widths[at] = Math.max(widths[at]!, needed(placed) / columns);
    }
  }
  return widths;
}

function naturalWidth(table: Table, squeeze: Squeeze): number {
  return columnWidths(table, FONT_SIZE, squeeze).reduce((sum, width) => sum + width, 0);
}

function widestOf({ parts }: Paper, squeeze: Squeeze): number {
  const widths = parts.flatMap((part) =>
    part.kind === "tables"
      ? [part.tables.reduce((sum, table) => sum + naturalWidth(table, squeeze) + BETWEEN_TABLES, -BETWEEN_TABLES)]
      : [],
  );
  return Math.max(0, ...widths);
}
