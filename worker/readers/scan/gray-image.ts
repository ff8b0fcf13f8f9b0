import { type Canvas, createCanvas, type SKRSContext2D } from "@napi-rs/canvas";

/** A picture in shades of grey, row by row; 0 is black. */
export interface GrayImage {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

export function createGray(width: number, height: number): GrayImage {
  return { width, height, pixels: new Uint8Array(width * height).fill(255) };
}

export function toGray(canvas: Canvas): GrayImage {
  const { width, height } = canvas;
  const { data } = canvas.getContext("2d").getImageData(0, 0, width, height);
  const pixels = new Uint8Array(width * height);
  for (let index = 0, at = 0; index < pixels.length; index++, at += 4) {
    // Luma of ITU-R BT.601, in 256ths.
    pixels[index] = (77 * data[at]! + 150 * data[at + 1]! + 29 * data[at + 2]!) >> 8;
  }
  return { width, height, pixels };
}

/** A white sheet with what `draw` puts on it. */
export function drawOnWhite(width: number, height: number, draw: (context: SKRSContext2D) => void): Canvas {
  const canvas = createCanvas(Math.max(1, Math.round(width)), Math.max(1, Math.round(height)));
  const context = canvas.getContext("2d");
  context.fillStyle = "white";
  context.fillRect(0, 0, canvas.width, canvas.height);
  draw(context);
  return canvas;
}

/** Portable graymap: the one picture format that costs nothing to write, and tesseract reads it. */
export function toPortableGraymap({ width, height, pixels }: GrayImage): Buffer {
  return Buffer.concat([Buffer.from(`P5\n${width} ${height}\n255\n`), pixels]);
}

/** Ink is at least so much darker than paper; less is the paper's own grain. */
const LEAST_CONTRAST = 50;
/** The greys of a picture. */
export interface InkLevels {
  /** What is as dark as that, or darker, is writing: it parts ink from paper best (Otsu's method). */
  readonly ink: number;
  /** Of the blank sheet, in the mean. */
  readonly paper: number;
}

export function inkLevels({ pixels }: GrayImage): InkLevels {
  const counts = new Float64Array(256);
  for (const pixel of pixels) counts[pixel]!++;
  const total = pixels.length;
  let sumAll = 0;
  for (let level = 0; level < 256; level++) sumAll += level * counts[level]!;
  let dark = 0;
  let sumDark = 0;
  let best = { spread: -1, level: 128, contrast: 255, paper: 255 };
  for (let level = 0; level < 255; level++) {
    dark += counts[level]!;
    sumDark += level * counts[level]!;
    if (dark === 0 || dark === total) continue;
    const paper = (sumAll - sumDark) / (total - dark);
    const contrast = paper - sumDark / dark;
    const spread = dark * (total - dark) * contrast * contrast;
    if (spread > best.spread) best = { spread, level, contrast, paper };
  }
  const ink = best.contrast >= LEAST_CONTRAST ? best.level : Math.max(0, best.paper - LEAST_CONTRAST);
  return { ink, paper: best.paper };
}
