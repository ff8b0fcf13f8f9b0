import type { Box, Word } from "../layout/word.js";
import type { GrayImage } from "./gray-image.js";
import { readUpright, type ScannedPage } from "./read-upright.js";
import { quarterTurn } from "./turn-image.js";

export type { ScannedPage };

/** A word long enough that noise is not read as one by chance, and sure enough. */
const WORD_LETTERS = 3;
const WORD_SURE = 0.8;
/** Less of its words than this: the page may lie on its side or stand on its head. */
const READABLE_SHARE = 0.4;

/**
 * A picture of a page, whichever way up it was scanned.
 * @param pageScale pixels of the picture to units of the page that boxes are given in
 */
export async function readScan(picture: GrayImage, dpi: number, pageScale: number): Promise<ScannedPage> {
  let best = await readUpright(picture, dpi, pageScale);
  if (best.words.length === 0 || isReadable(best)) return best;
  for (const turns of [1, 3, 2] as const) {
    const turned = await readUpright(quarterTurn(picture, turns), dpi, pageScale);
    if (sureWords(turned) <= sureWords(best)) continue;
    const [width, height] = [picture.width * pageScale, picture.height * pageScale];
    best = {
      ...turned,
      words: turned.words.map((word): Word => ({ ...word, box: boxBefore(word.box, turns, width, height) })),
    };
    if (isReadable(turned)) return best;
  }
  return best;
}

function isReadable(page: ScannedPage): boolean {
  const long = page.words.filter(({ text }) => text.length >= WORD_LETTERS).length;
  return sureWords(page) >= READABLE_SHARE * long;
}

function sureWords({ words }: ScannedPage): number {
  return words.filter(({ text, confidence }) => text.length >= WORD_LETTERS && confidence >= WORD_SURE).length;
}

/** Where a box of the picture turned clockwise lies in the picture as it was. */
function boxBefore([x, y, across, down]: Box, turns: 1 | 2 | 3, width: number, height: number): Box {
  if (turns === 1) return [y, height - x - across, down, across];
  if (turns === 2) return [width - x - across, height - y - down, across, down];
  return [width - y - down, x, down, across];
}
