import { expect, test } from "vitest";
import { estimateSkew } from "../../../../worker/readers/scan/estimate-skew.js";
import { createGray, type GrayImage } from "../../../../worker/readers/scan/gray-image.js";
import { takeRulingLines } from "../../../../worker/readers/scan/ruling-lines.js";
import { pointBefore, quarterTurn, turnBack } from "../../../../worker/readers/scan/turn-image.js";

const INK = 128;

/** Black bars like lines of writing, turned clockwise by so many degrees. */
function drawLines(degrees: number): GrayImage {
  const image = createGray(600, 400);
  for (let line = 40; line < 360; line += 20) {
    for (let x = 60; x < 540; x++) for (let y = line; y < line + 6; y++) image.pixels[y * 600 + x] = 0;
  }
  return turnBack(image, -degrees);
}

test.each([-3, -0.5, 0, 0.35, 2])("a skew of %d degrees is seen and taken out", (degrees) => {
  const picture = drawLines(degrees);
  // On 600 pixels a tenth of a degree is one pixel.
  expect(Math.abs(estimateSkew(picture, INK) - degrees)).toBeLessThan(0.12);
  expect(Math.abs(estimateSkew(turnBack(picture, degrees), INK))).toBeLessThan(0.12);
});

test("four quarter turns are none, and each way has its way back", () => {
  const image = createGray(3, 2);
  image.pixels.set([1, 2, 3, 4, 5, 6]);
  expect([...quarterTurn(image, 1).pixels]).toEqual([4, 1, 5, 2, 6, 3]);
  expect(quarterTurn(quarterTurn(image, 1), 3)).toEqual(image);
  expect(quarterTurn(quarterTurn(image, 2), 2)).toEqual(image);
});

test("a point of the straightened picture is found again in the picture as it was", () => {
  const picture = createGray(200, 100);
  picture.pixels[70 * 200 + 150] = 0;
  const turned = turnBack(picture, 5);
  const at = turned.pixels.indexOf(Math.min(...turned.pixels));
  const [x, y] = pointBefore(at % 200, Math.floor(at / 200), 5, picture);
  expect(Math.hypot(x - 150, y - 70)).toBeLessThan(1);
});

test("ruling lines are found and wiped out; letters between them stay", () => {
  const dpi = 300;
  const image = createGray(400, 200);
  const fill = (left: number, top: number, right: number, bottom: number) => {
    for (let y = top; y < bottom; y++) image.pixels.fill(0, y * 400 + left, y * 400 + right);
  };
  fill(20, 50, 380, 53);
  fill(100, 50, 103, 180);
  fill(150, 100, 170, 130);
  const lines = takeRulingLines(image, { ink: INK, paper: 255 }, dpi);
  expect(lines.map(({ direction, at }) => [direction, at])).toEqual([
    ["level", 51],
    ["upright", 101],
  ]);
  expect(image.pixels.filter((pixel) => pixel === 0)).toHaveLength(20 * 30);
});
