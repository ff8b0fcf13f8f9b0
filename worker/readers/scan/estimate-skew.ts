import type { GrayImage } from "./gray-image.js";

const MOST_DEGREES = 4;
const COARSE_STEP = 0.25;
const FINE_STEP = 0.05;
const AS_GOOD = 0.98;
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
  const bins = new Float64Array(height * 3);
  for (let at = 0; at < ink.length; at += 2) {
    const bin = Math.round(ink[at + 1]! - ink[at]! * slope + height);
    if (bin >= 0 && bin < bins.length) bins[bin]!++;
  }
  let sharpness = 0;
  for (let bin = 1; bin < bins.length; bin++) sharpness += (bins[bin]! - bins[bin - 1]!) ** 2;
  return sharpness;
}

/** Small pictures cannot tell neighbouring angles apart: the middle of those that are as good as the best. */
function bestOf(from: number, to: number, step: number, rate: (value: number) => number): number {
  const count = Math.round((to - from) / step) + 1;
  const rated = Array.from({ length: count }, (_, index) => {
    const value = from + index * step;
    return { value, rating: rate(value) };
  });
  const best = Math.max(...rated.map(({ rating }) => rating));
  const good = rated.filter(({ rating }) => rating >= AS_GOOD * best);
  return (good[0]!.value + good.at(-1)!.value) / 2;
}
