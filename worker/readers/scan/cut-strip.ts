import type { GrayImage } from "./gray-image.js";
import type { Blob } from "./ink-blobs.js";

const WHITE = 255;

/** A part of the picture brought to a height of so many pixels; what is foreign to it is left white. */
export function cutStrip(
  image: GrayImage,
  box: readonly [left: number, top: number, right: number, bottom: number],
  foreign: readonly Blob[],
  height: number,
): GrayImage {
  const [left, top, right, bottom] = box.map(Math.round) as [number, number, number, number];
  const part = copyPart(image, left, top, right, bottom);
  for (const blob of foreign)
    whiten(part, blob.left - left - 1, blob.top - top - 1, blob.right - left + 1, blob.bottom - top + 1);
  return resize(part, Math.max(8, Math.round((part.width * height) / part.height)), height);
}

function copyPart(image: GrayImage, left: number, top: number, right: number, bottom: number): GrayImage {
  const [width, height] = [Math.max(1, right - left), Math.max(1, bottom - top)];
  const pixels = new Uint8Array(width * height).fill(WHITE);
  for (let y = Math.max(0, -top); y < Math.min(height, image.height - top); y++) {
    const from = Math.max(0, -left);
    const to = Math.min(width, image.width - left);
    if (to <= from) break;
    const start = (top + y) * image.width + left;
    pixels.set(image.pixels.subarray(start + from, start + to), y * width + from);
  }
  return { width, height, pixels };
}

function whiten({ width, height, pixels }: GrayImage, left: number, top: number, right: number, bottom: number): void {
  const [from, to] = [Math.max(0, left), Math.min(width, right)];
  if (to <= from) return;
  for (let y = Math.max(0, top); y < Math.min(height, bottom); y++)
    pixels.fill(WHITE, y * width + from, y * width + to);
}

/** By cubic interpolation where it grows, by the mean of what each pixel covers where it shrinks. */
function resize(image: GrayImage, width: number, height: number): GrayImage {
  const across = resample(image.width, width);
  const down = resample(image.height, height);
  const between = new Float32Array(image.height * width);
  for (let y = 0; y < image.height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (const { at, weight } of across[x]!) sum += weight * image.pixels[y * image.width + at]!;
      between[y * width + x] = sum;
    }
  }
  const pixels = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (const { at, weight } of down[y]!) sum += weight * between[at * width + x]!;
      pixels[y * width + x] = Math.max(0, Math.min(255, Math.round(sum)));
    }
  }
  return { width, height, pixels };
}

interface Tap {
  readonly at: number;
  readonly weight: number;
}

/** Which pixels of the old side make up each of the new, and by how much. */
function resample(before: number, after: number): Tap[][] {
  const step = before / after;
  const spread = Math.max(1, step);
  return Array.from({ length: after }, (_, index) => {
    const centre = (index + 0.5) * step - 0.5;
    const taps: Tap[] = [];
    for (let at = Math.ceil(centre - 2 * spread); at <= centre + 2 * spread; at++) {
      const weight = cubic((at - centre) / spread);
      if (weight !== 0) taps.push({ at: Math.max(0, Math.min(before - 1, at)), weight });
    }
    const total = taps.reduce((sum, { weight }) => sum + weight, 0);
    return taps.map(({ at, weight }) => ({ at, weight: weight / total }));
  });
}

/** Keys' cubic convolution kernel, a = -1/2. */
function cubic(distance: number): number {
  const x = Math.abs(distance);
  if (x <= 1) return 1.5 * x ** 3 - 2.5 * x ** 2 + 1;
  return x < 2 ? -0.5 * x ** 3 + 2.5 * x ** 2 - 4 * x + 2 : 0;
}

/** With a white border all round. */
export function withBorder(image: GrayImage, border: number): GrayImage {
  return copyPart(image, -border, -border, image.width + border, image.height + border);
}
