import type { Box, Rule, Word } from "../layout/word.js";
import type { GrayImage } from "./gray-image.js";
import type { OcrWord } from "./ocr-session.js";
import type { PreparedPage } from "./prepare-page.js";
import { type Engines, readStrip } from "./read-strip.js";
import { pointBefore } from "./turn-image.js";

export interface ScannedPage {
  readonly words: Word[];
  readonly rules: Rule[];
  readonly skewDegrees: number;
}

/** A line of type is so much higher than the ink of its digits and capitals. */
const LINE_TO_INK = 1.3;
/** White on either side of its ink that belongs to a character, in heights of a line; layout measures gaps between characters. */
const SIDE_BEARING = 0.05;
/** In usual heights of ink: what is so high and so wide is a sign, not a speck or the stump of a line. */
const LEAST_SIGN = { across: 0.2, down: 0.35 };
/** Stands for writing that neither engine could spell: a value, a heat's number or "<" that is passed over would change what is read. */
const UNREAD = "?";
const POINTS_PER_INCH = 72;

/**
 * Reads a page that stands upright, strip by strip.
 * @param picture the page before it was straightened
 * @param pageScale pixels of the picture to units of the page that boxes are given in
 */
export async function readUpright(
  page: PreparedPage,
  picture: GrayImage,
  dpi: number,
  pageScale: number,
  engines: Engines,
): Promise<ScannedPage> {
  const words: OcrWord[] = [];
  for (const strip of page.strips) words.push(...(await readStrip(strip, page.level, page.blobs, engines)));
  const toPoints = POINTS_PER_INCH / dpi;
  const usualInk = median(words.map(({ box }) => box[3] - box[1]));
  const usualHeight = LINE_TO_INK * usualInk;
  return {
    skewDegrees: page.skewDegrees,
    words: words.flatMap((word) => {
      if (!isDirt(word)) return [toWord(word)];
      return isSign(word, usualInk) ? [toWord({ ...word, text: UNREAD, confidence: 0 })] : [];
    }),
    rules: page.lines.map(({ direction, at, from, to }) => {
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
      left: (left - SIDE_BEARING * usualHeight) * toPoints,
      right: (right + SIDE_BEARING * usualHeight) * toPoints,
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
    ].map(([x, y]) => (page.skewDegrees === 0 ? [x!, y!] : pointBefore(x!, y!, page.skewDegrees, picture)));
    const xs = corners.map(([x]) => x! * pageScale);
    const ys = corners.map(([, y]) => y! * pageScale);
    return [Math.min(...xs), Math.min(...ys), Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
  }
}

function median(values: readonly number[]): number {
  return [...values].sort((left, right) => left - right)[Math.floor(values.length / 2)] ?? 0;
}

/** What spells nothing: specks, the stumps of lines that were taken out, signs that the engines do not agree on. A dash stays when it is surely one: it means "none". */
function isDirt({ text, confidence }: OcrWord): boolean {
  return text.trim() === "" || (/^[^\p{L}\p{N}%]+$/u.test(text) && confidence < 0.6);
}

function isSign({ box: [left, top, right, bottom] }: OcrWord, usualInk: number): boolean {
  return right - left >= LEAST_SIGN.across * usualInk && bottom - top >= LEAST_SIGN.down * usualInk;
}
