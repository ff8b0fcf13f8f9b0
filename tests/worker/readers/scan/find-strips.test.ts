import { expect, test } from "vitest";
import { findStrips } from "../../../../worker/readers/scan/find-strips.js";
import { createGray, type GrayImage } from "../../../../worker/readers/scan/gray-image.js";
import { findBlobs } from "../../../../worker/readers/scan/ink-blobs.js";
import { takeRulingLines } from "../../../../worker/readers/scan/ruling-lines.js";

const DPI = 300;

/** Bars for letters: [left, top, width, height]. */
function draw(...bars: readonly (readonly [number, number, number, number])[]): GrayImage {
  const image = createGray(600, 200);
  for (const [left, top, width, height] of bars) {
    for (let y = top; y < top + height; y++) image.pixels.fill(0, y * 600 + left, y * 600 + left + width);
  }
  return image;
}

/** "8.88" as bars, from `left`. */
function number(left: number, top = 50): readonly (readonly [number, number, number, number])[] {
  return [
    [left, top, 14, 24],
    [left + 18, top + 20, 4, 4],
    [left + 26, top, 14, 24],
    [left + 44, top, 14, 24],
  ];
}

function strips(image: GrayImage) {
  const lines = takeRulingLines(image, { ink: 128, paper: 255 }, DPI);
  return findStrips(findBlobs(image, 128), lines, DPI).map(({ left, right, blobs }) => [left, right, blobs.length]);
}

test("pieces of ink hang together by their corners, and each counts its ink", () => {
  const blobs = findBlobs(draw([10, 10, 5, 5], [15, 15, 5, 5], [40, 10, 3, 3]), 128);
  expect(blobs).toEqual([
    { left: 10, top: 10, right: 20, bottom: 20, ink: 50 },
    { left: 40, top: 10, right: 43, bottom: 13, ink: 9 },
  ]);
});

test("a U is one piece, though its arms meet last", () => {
  expect(findBlobs(draw([10, 10, 4, 20], [30, 10, 4, 20], [10, 30, 24, 4]), 128)).toHaveLength(1);
});

test("values of two columns are two strips, each with its point", () => {
  expect(strips(draw(...number(20), ...number(120)))).toEqual([
    [20, 78, 4],
    [120, 178, 4],
  ]);
});

test("a point in the middle of wide white belongs to both figures beside it; without it they are two strips", () => {
  const figures = [
    [20, 50, 14, 24],
    [58, 50, 14, 24],
  ] as const;
  expect(strips(draw(...figures, [44, 70, 4, 4]))).toEqual([[20, 72, 3]]);
  expect(strips(draw(...figures))).toHaveLength(2);
  expect(strips(draw(...figures, [46, 50, 6, 6]))).toHaveLength(2);
});

test("an upright ruling line parts what stands close", () => {
  const together = draw(...number(20), ...number(96));
  expect(strips(together)).toHaveLength(1);
  expect(strips(draw(...number(20), ...number(96), [86, 20, 2, 120]))).toHaveLength(2);
});

test("a comma belongs to the line that it hangs from, not to the one below", () => {
  const above = number(20, 40).filter(([, , width]) => width > 4);
  const found = strips(draw(...above, [38, 60, 4, 8], [18, 72, 14, 24], [44, 72, 14, 24]));
  expect(found.sort((left, right) => left[0]! - right[0]!).map(([, , count]) => count)).toEqual([2, 4]);
});

test("a lone dash is kept, dust and stumps of lines are not", () => {
  expect(strips(draw(...number(20), [300, 61, 10, 3], [400, 60, 2, 1], [450, 60, 60, 2]))).toEqual([
    [20, 78, 4],
    [300, 310, 1],
  ]);
});

test("the tops of small letters in a row are no ruling line", () => {
  const tops = Array.from({ length: 20 }, (_, index) => [20 + index * 9, 50, 6, 3] as const);
  const stems = tops.map(([left]) => [left + 2, 53, 2, 15] as const);
  const image = draw(...tops, ...stems, [20, 100, 300, 2]);
  expect(takeRulingLines(image, { ink: 128, paper: 255 }, DPI)).toEqual([
    { direction: "level", at: 100.5, from: 20, to: 319 },
  ]);
  expect(image.pixels[51 * 600 + 22]).toBe(0);
});
