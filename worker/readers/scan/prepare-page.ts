import { estimateSkew } from "./estimate-skew.js";
import type { Strip } from "./find-strips.js";
import { findStrips } from "./find-strips.js";
import { type GrayImage, inkLevels } from "./gray-image.js";
import { type Blob, findBlobs } from "./ink-blobs.js";
import { type PixelLine, takeRulingLines } from "./ruling-lines.js";
import { turnBack } from "./turn-image.js";

/** A picture of a page, straightened and taken apart into ruling lines and writing. */
export interface PreparedPage {
  /** Straightened, without its ruling lines. */
  readonly level: GrayImage;
  /** By how much the writing was turned clockwise; 0 where it was left as it is. */
  readonly skewDegrees: number;
  readonly lines: readonly PixelLine[];
  readonly blobs: readonly Blob[];
  readonly strips: readonly Strip[];
}

const LEAST_SKEW_DEGREES = 0.08;
const LEAST_INK = 0.0001;

export function preparePage(picture: GrayImage, dpi: number): PreparedPage {
  const levels = inkLevels(picture);
  if (isBlank(picture, levels.ink)) return { level: picture, skewDegrees: 0, lines: [], blobs: [], strips: [] };
  const skew = estimateSkew(picture, levels.ink);
  const isLevel = Math.abs(skew) < LEAST_SKEW_DEGREES;
  const level = isLevel ? { ...picture, pixels: picture.pixels.slice() } : turnBack(picture, skew);
  const lines = takeRulingLines(level, levels, dpi);
  const blobs = findBlobs(level, levels.ink);
  return { level, skewDegrees: isLevel ? 0 : skew, lines, blobs, strips: findStrips(blobs, lines, dpi) };
}

function isBlank({ pixels }: GrayImage, threshold: number): boolean {
  let ink = 0;
  for (const pixel of pixels) if (pixel <= threshold) ink++;
  return ink < LEAST_INK * pixels.length;
}
