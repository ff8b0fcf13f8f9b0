import { createCanvas } from "@napi-rs/canvas";
import { DEFAULT_BUDGETS } from "../../../../worker/readers/budgets.js";
import { createMeter } from "../../../../worker/readers/meter.js";
import { openPdf } from "../../../../worker/readers/pdf/open-pdf.js";
import { renderPage } from "../../../../worker/readers/pdf/render-page.js";

export interface Scanner {
  readonly dpi: number;
  /** Clockwise. */
  readonly skewDegrees: number;
  /** 0 to 255: how much brightness a speck may be off. */
  readonly noise: number;
  readonly jpegQuality: number;
}

/** The first page of a PDF as a scanner would deliver it: turned a little, speckled, as JPEG. The same every time. */
export async function makeScan(pdf: Buffer, { dpi, skewDegrees, noise, jpegQuality }: Scanner): Promise<Buffer> {
  const document = await openPdf(pdf, createMeter(DEFAULT_BUDGETS));
  const { canvas: page } = await renderPage(await document.getPage(1), dpi);
  await document.loadingTask.destroy();
  const canvas = createCanvas(page.width, page.height);
  const context = canvas.getContext("2d");
  context.fillStyle = "white";
  context.fillRect(0, 0, page.width, page.height);
  context.translate(page.width / 2, page.height / 2);
  context.rotate((skewDegrees * Math.PI) / 180);
  context.drawImage(page, -page.width / 2, -page.height / 2);
  const picture = context.getImageData(0, 0, page.width, page.height);
  let seed = 20418;
  for (let at = 0; at < picture.data.length; at += 4) {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    const speck = ((seed >>> 16) % (2 * noise + 1)) - noise;
    for (let channel = at; channel < at + 3; channel++) {
      picture.data[channel] = Math.max(0, Math.min(255, picture.data[channel]! * 0.93 + 8 + speck));
    }
  }
  // This canvas puts pictures through the transformation, unlike a browser's.
  context.resetTransform();
  context.putImageData(picture, 0, 0);
  return canvas.toBuffer("image/jpeg", jpegQuality);
}
