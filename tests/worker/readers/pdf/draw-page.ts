import PDFDocument from "pdfkit";

export type Ruling = "all" | "columns" | "rows" | "none";

export interface DrawnTable {
  readonly x: number;
  readonly y: number;
  readonly widths: readonly number[];
  readonly rowHeight?: number;
  readonly ruling: Ruling;
  /** A text may be a span: ["Chemical composition", 3]. "" leaves the cell empty. */
  readonly rows: readonly (readonly (string | readonly [text: string, columns: number])[])[];
  readonly align?: "left" | "center" | "right";
  readonly fontSize?: number;
}

export type Pdf = InstanceType<typeof PDFDocument>;

/** A PDF of one invented page after the other, as bytes. */
export async function drawPdf(draw: (pdf: Pdf) => void, options: PDFKit.PDFDocumentOptions = {}): Promise<Buffer> {
  const pdf = new PDFDocument({ size: "A4", margin: 30, compress: true, ...options });
  const chunks: Buffer[] = [];
  pdf.on("data", (chunk: Buffer) => chunks.push(chunk));
  const done = new Promise((resolve) => pdf.on("end", resolve));
  pdf.font("Helvetica").fontSize(8).lineWidth(0.6);
  draw(pdf);
  pdf.end();
  await done;
  return Buffer.concat(chunks);
}

export function drawText(pdf: Pdf, text: string, x: number, y: number): void {
  pdf.text(text, x, y, { lineBreak: false });
}

/** Returns the y below the table. */
export function drawTable(pdf: Pdf, table: DrawnTable): number {
  const { x, y, widths, rowHeight = 15, ruling, rows, align = "center", fontSize = 8 } = table;
  const total = widths.reduce((sum, width) => sum + width, 0);
  pdf.fontSize(fontSize);
  rows.forEach((row, index) => {
    const top = y + index * rowHeight;
    let left = x;
    let column = 0;
    for (const entry of row) {
      const [text, span] = typeof entry === "string" ? [entry, 1] : entry;
      const width = widths.slice(column, column + span).reduce((sum, part) => sum + part, 0);
      if (text !== "") writeInCell(pdf, text, { left, top, width, rowHeight }, align);
      if (ruling === "all") pdf.rect(left, top, width, rowHeight).stroke();
      left += width;
      column += span;
    }
    if (ruling === "rows")
      pdf
        .moveTo(x, top)
        .lineTo(x + total, top)
        .stroke();
  });
  const bottom = y + rows.length * rowHeight;
  if (ruling === "rows")
    pdf
      .moveTo(x, bottom)
      .lineTo(x + total, bottom)
      .stroke();
  if (ruling === "columns") {
    pdf.rect(x, y, total, bottom - y).stroke();
    pdf
      .moveTo(x, y + rowHeight)
      .lineTo(x + total, y + rowHeight)
      .stroke();
    let at = x;
    for (const width of widths.slice(0, -1)) {
      at += width;
      pdf.moveTo(at, y).lineTo(at, bottom).stroke();
    }
  }
  return bottom;
}

interface CellFrame {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly rowHeight: number;
}

function writeInCell(
  pdf: Pdf,
  text: string,
  { left, top, width, rowHeight }: CellFrame,
  align: DrawnTable["align"],
): void {
  const lines = text.split("\n");
  lines.forEach((line, index) => {
    const free = width - pdf.widthOfString(line);
    const x = align === "left" ? left + 2 : align === "right" ? left + free - 2 : left + free / 2;
    const height = pdf.currentLineHeight();
    drawText(pdf, line, x, top + (rowHeight - lines.length * height) / 2 + index * height);
  });
}
