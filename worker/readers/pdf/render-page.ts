import { createCanvas } from "@napi-rs/canvas";
import type { PDFPageProxy } from "pdfjs-dist/legacy/build/pdf.mjs";

export const POINTS_PER_INCH = 72;

/** A page of poster size at full resolution would take a gigabyte. */
const MOST_PIXELS = 24_000_000;

/** The page as shown, and at which resolution it could be drawn. */
export async function renderPage(page: PDFPageProxy, wantedDpi: number) {
  const { width, height } = page.getViewport({ scale: 1 });
  const wanted = wantedDpi / POINTS_PER_INCH;
  const scale = Math.min(wanted, Math.sqrt(MOST_PIXELS / (width * height)));
  const viewport = page.getViewport({ scale });
  const canvas = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height));
  const context = canvas.getContext("2d");
  context.fillStyle = "white";
  context.fillRect(0, 0, canvas.width, canvas.height);
  // The library's types know the browser's canvas only.
  await page.render({ canvas: canvas as never, canvasContext: context as never, viewport }).promise;
  return { canvas, dpi: scale * POINTS_PER_INCH };
}
