import type { PDFPageProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import { toGray } from "../scan/gray-image.js";
import { describeOcr, OCR_DPI } from "../scan/read-image.js";
import { readScan } from "../scan/read-scan.js";
import type { ScannedPage } from "../scan/read-upright.js";
import { POINTS_PER_INCH, renderPage } from "./render-page.js";

/** A page that is a picture: drawn, then read as any other scan. */
export async function scanPage(page: PDFPageProxy, number: number): Promise<{ scan: ScannedPage; note: string }> {
  const { canvas, dpi } = await renderPage(page, OCR_DPI);
  const scan = await readScan(toGray(canvas), dpi, POINTS_PER_INCH / dpi);
  return { scan, note: describeOcr(dpi, scan.skewDegrees, number) };
}
