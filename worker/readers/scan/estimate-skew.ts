import type { GrayImage } from "./gray-image.js";

const MOST_DEGREES = 4;
const COARSE_STEP = 0.25;
const FINE_STEP = 0.05;
/** Enough ink to see the lines of writing by. */
const SAMPLE = 60_000;

/**
 * The angle by which the writing is turned, clockwise, in degrees. Ink is added up along slanted lines; at the right slant
 * the sums jump most between lines of writing and the gaps between them.
 */
export function estimateSkew(image: GrayImage, threshold: number): number {
  const ink = sampleInk(image, threshold);
  if (ink.length < 400) return 0;
  const sharpness = (degrees: number) => rateSlant(ink, image.height, Math.tan((degrees * Math.PI) / 180));
  const coarse = bestOf(-MOST_DEGREES, MOST_DEGREES, COARSE_STEP, sharpness);
  return bestOf(coarse - COARSE_STEP, coarse + COARSE_STEP, FINE_STEP, sharpness);
}

/** x and y of dark pixels, alternating. */
function sampleInk({ width, height, pixels }: GrayImage, threshold: number): Int32Array {
  let dark = 0;
  for (const pixel of pixels) if (pixel <= threshold) dark++;
  const every = Math.max(1, Math.ceil(dark / SAMPLE));
  const ink: number[] = [];
  let seen = 0;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (pixels[y * width + x]! <= threshold && seen++ % every === 0) ink.push(x, y);
    }
  }
  return Int32Array.from(ink);
}

function rateSlant(ink: Int32Array, height: number, slope: number): number {
  const BIN = 2;
  const bins = new Float64Array(Math.ceil((height * 3) / BIN));
  for (let at = 0; at < ink.length; at += 2) {
    const bin = Math.round((ink[at + 1]! - ink[at]! * slope + height) / BIN);
    if (bin >= 0 && bin < bins.length) bins[bin]!++;
  }
  let sharpness = 0;
  for (let bin = 1; bin < bins.length; bin++) sharpness += (bins[bin]! - bins[bin - 1]!) ** 2;
  return sharpness;
}

function bestOf(from: number, to: number, step: number, rate: (value: number) => number): number {
  let best = { value: 0, rating: Number.NEGATIVE_INFINITY };
  for (let count = 0; from + count * step <= to + 1e-9; count++) {
    const value = from + count * step;
    const rating = rate(value);
    if (rating > best.rating) best = { value, rating };
  }
  return best.value;
}
