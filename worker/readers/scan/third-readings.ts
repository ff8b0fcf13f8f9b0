import { type AgreedWord, settleWord } from "./agree-words.js";
import { cutOut, type GrayImage } from "./gray-image.js";
import type { OcrSession, OcrWord } from "./ocr-session.js";

/** Below this a word is read a third time. */
const SURE = 0.85;
const MOST_THIRD_READINGS = 120;
const DARK = 140;

/** Reads the doubtful words once more, each by itself and enlarged. */
export async function settleWords(
  words: readonly AgreedWord[],
  image: GrayImage,
  dpi: number,
  ocr: OcrSession,
): Promise<OcrWord[]> {
  const settled: OcrWord[] = [];
  let left = MOST_THIRD_READINGS;
  for (const word of words) {
    if (word.confidence >= SURE || left-- <= 0) {
      settled.push(word);
      continue;
    }
    const border = Math.round(0.04 * dpi);
    const box = word.box.map(Math.round) as [number, number, number, number];
    const picture = cutOut(image, box, border, 2);
    const third = await ocr.readWord(picture, 2 * dpi);
    settled.push(settleWord(word, third && undouble({ ...third, box: word.box }, image)));
  }
  return settled;
}

/** A lone capital is often read as itself and its small letter, "Cc": one blot of ink is one letter. */
export function undouble(word: OcrWord, { width, pixels }: GrayImage): OcrWord {
  const [first, second] = word.text;
  if (word.text.length !== 2 || first!.toLowerCase() !== second || first === second) return word;
  const [left, top, right, bottom] = word.box.map(Math.round) as [number, number, number, number];
  let blots = 0;
  let wasInk = false;
  for (let x = left; x < right; x++) {
    let isInk = false;
    for (let y = top; y < bottom && !isInk; y++) isInk = pixels[y * width + x]! < DARK;
    if (isInk && !wasInk) blots++;
    wasInk = isInk;
  }
  return blots === 1 ? { ...word, text: first! } : word;
}
