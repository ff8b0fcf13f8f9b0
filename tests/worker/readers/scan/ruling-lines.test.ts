import { expect, test } from "vitest";
import { createGray, type GrayImage } from "../../../../worker/readers/scan/gray-image.js";
import { findBlobs } from "../../../../worker/readers/scan/ink-blobs.js";
import { takeRulingLines } from "../../../../worker/readers/scan/ruling-lines.js";

const DPI = 300;
const WIDTH = 600;
const LEVELS = { ink: 128, paper: 255 };
const FAINT_GREY = 200;
const SHADE = 215;

interface Bar {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly grey?: number;
}

function draw(...bars: readonly Bar[]): GrayImage {
  const image = createGray(WIDTH, 200);
  for (const { left, top, width, height, grey = 0 } of bars) {
    for (let y = top; y < top + height; y++) image.pixels.fill(grey, y * WIDTH + left, y * WIDTH + left + width);
  }
  return image;
}

test("a thin grey line, fainter than writing, is found as one, not as a row of dashes", () => {
  const specks = [150, 300, 450].map((left) => ({ left, top: 80, width: 20, height: 3, grey: 120 }));
  const image = draw({ left: 50, top: 80, width: 500, height: 3, grey: FAINT_GREY }, ...specks);
  expect(takeRulingLines(image, LEVELS, DPI)).toEqual([{ direction: "level", at: 81, from: 50, to: 549 }]);
  expect(findBlobs(image, LEVELS.ink)).toEqual([]);
});

test("a grey line goes on through a shaded field", () => {
  const shade = { left: 100, top: 20, width: 400, height: 60, grey: SHADE };
  const image = draw(shade, { left: 300, top: 20, width: 3, height: 160, grey: 195 });
  expect(takeRulingLines(image, LEVELS, DPI)).toEqual([{ direction: "upright", at: 301, from: 20, to: 179 }]);
});

test("the feet of a word's letters, whose soft edges meet, are no line", () => {
  const word = Array.from({ length: 16 }, (_, letter) => [
    { left: 100 + 14 * letter, top: 60, width: 10, height: 20 },
    { left: 110 + 14 * letter, top: 76, width: 4, height: 4, grey: 170 },
  ]).flat();
  const image = draw(...word);
  expect(takeRulingLines(image, LEVELS, DPI)).toEqual([]);
  expect(findBlobs(image, LEVELS.ink)).toHaveLength(16);
});

test("a letter that a line runs through stays whole; a letter that only touches it keeps what stands out", () => {
  const crossed = { left: 100, top: 70, width: 6, height: 24 };
  const touching = { left: 200, top: 60, width: 6, height: 21 };
  const image = draw({ left: 20, top: 80, width: 500, height: 3 }, crossed, touching);
  expect(takeRulingLines(image, LEVELS, DPI)).toHaveLength(1);
  expect(findBlobs(image, LEVELS.ink).map(({ top, bottom }) => [top, bottom])).toEqual([
    [60, 78],
    [70, 94],
  ]);
});

test("a slanting stroke stays whole where a line runs through it", () => {
  const stroke = Array.from({ length: 30 }, (_, step) => ({ left: 100 + step, top: 66 + step, width: 6, height: 1 }));
  const image = draw({ left: 20, top: 80, width: 500, height: 3 }, ...stroke);
  takeRulingLines(image, LEVELS, DPI);
  expect(findBlobs(image, LEVELS.ink).map(({ top, bottom }) => [top, bottom])).toEqual([[66, 96]]);
});
