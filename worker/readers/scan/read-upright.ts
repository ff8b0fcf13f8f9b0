import type { Box, Rule, Word } from "../layout/word.js";
import { agreeWords } from "./agree-words.js";
import { estimateSkew } from "./estimate-skew.js";
import { type GrayImage, inkThreshold } from "./gray-image.js";
import { type OcrWord, openOcr } from "./ocr-session.js";
import { takeRulingLines } from "./ruling-lines.js";
import { settleWords, undouble } from "./third-readings.js";
import { pointBefore, shrink, turnBack } from "./turn-image.js";

export interface ScannedPage {
  readonly words: Word[];
  readonly rules: Rule[];
  readonly skewDegrees: number;
}

const LEAST_SKEW_DEGREES = 0.08;
/** The second reading's picture; far enough from the first for other mistakes. */
const SECOND_SCALE = 0.8;
/** A line of type is so much higher than the ink of its digits and capitals. */
const LINE_TO_INK = 1.3;
const POINTS_PER_INCH = 72;

/**
 * A picture of a page that stands upright: straightened, its ruling lines taken out, read twice.
 * @param pageScale pixels of the picture to units of the page that boxes are given in
 */
export async function readUpright(picture: GrayImage, dpi: number, pageScale: number): Promise<ScannedPage> {
  const threshold = inkThreshold(picture);
  if (isBlank(picture, threshold)) return { words: [], rules: [], skewDegrees: 0 };
  const skew = estimateSkew(picture, threshold);
  const isLevel = Math.abs(skew) < LEAST_SKEW_DEGREES;
  const level = isLevel ? { ...picture, pixels: picture.pixels.slice() } : turnBack(picture, skew);
  const lines = takeRulingLines(level, threshold, dpi);
  const ocr = await openOcr();
  const first = await ocr.readPage(level, dpi);
  const second = await ocr.readPage(shrink(level, SECOND_SCALE), dpi * SECOND_SCALE);
  const single = (word: OcrWord) => undouble(word, level);
  const words = await settleWords(agreeWords(first.map(single), second.map(enlarge).map(single)), level, dpi, ocr);

  const toPoints = POINTS_PER_INCH / dpi;
  const usualHeight = LINE_TO_INK * median(words.map(({ box }) => box[3] - box[1]));
  return {
    skewDegrees: isLevel ? 0 : skew,
    words: words.filter((word) => !isDirt(word)).map((word) => toWord(word)),
    rules: lines.map(({ direction, at, from, to }) => {
      return { direction, at: at * toPoints, from: from * toPoints, to: to * toPoints };
    }),
  };

  function toWord({ text, confidence, box, line }: OcrWord): Word {
    const [left, top, right, bottom] = box;
    // "-" and "a" are lower than a line of writing; rows and gaps are measured by the line.
    const height = Math.max(bottom - top, usualHeight);
    const isSmall = LINE_TO_INK * (bottom - top) < 0.6 * usualHeight;
    const middle = isSmall ? (line[0] + line[1]) / 2 : (top + bottom) / 2;
    return {
      text,
      confidence,
      left: left * toPoints,
      right: right * toPoints,
      top: (middle - height / 2) * toPoints,
      bottom: (middle + height / 2) * toPoints,
      box: boxBefore([left, top, right, bottom]),
    };
  }

  function boxBefore([left, top, right, bottom]: readonly [number, number, number, number]): Box {
    const corners = [
      [left, top],
      [right, top],
      [left, bottom],
      [right, bottom],
    ].map(([x, y]) => (isLevel ? [x!, y!] : pointBefore(x!, y!, skew, picture)));
    const xs = corners.map(([x]) => x! * pageScale);
    const ys = corners.map(([, y]) => y! * pageScale);
    return [Math.min(...xs), Math.min(...ys), Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
  }
}

function median(values: readonly number[]): number {
  return [...values].sort((left, right) => left - right)[Math.floor(values.length / 2)] ?? 0;
}

const LEAST_INK = 0.0001;

function isBlank({ pixels }: GrayImage, threshold: number): boolean {
  let ink = 0;
  for (const pixel of pixels) if (pixel <= threshold) ink++;
  return ink < LEAST_INK * pixels.length;
}

function enlarge({ box, line, ...word }: OcrWord): OcrWord {
  const grow = (value: number) => value / SECOND_SCALE;
  const [left, top, right, bottom] = box;
  return { ...word, box: [grow(left), grow(top), grow(right), grow(bottom)], line: [grow(line[0]), grow(line[1])] };
}

/** Specks and the stumps of lines that were taken out. A dash stays when it is surely one: it means "none". */
function isDirt({ text, confidence }: OcrWord): boolean {
  return text.trim() === "" || (/^[^\p{L}\p{N}%]+$/u.test(text) && confidence < 0.6);
}
