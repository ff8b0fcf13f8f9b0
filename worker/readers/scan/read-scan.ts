import type { Box, Word } from "../layout/word.js";
import type { GrayImage } from "./gray-image.js";
import { openLineReader } from "./line-session.js";
import { openOcr } from "./ocr-session.js";
import { preparePage } from "./prepare-page.js";
import { rateUpright } from "./rate-upright.js";
import type { Engines } from "./read-strip.js";
import { readUpright, type ScannedPage } from "./read-upright.js";
import { quarterTurn } from "./turn-image.js";

/** So readable, writing stands upright for sure. */
const UPRIGHT = 0.8;

/**
 * A picture of a page, whichever way up it was scanned.
 * @param pageScale pixels of the picture to units of the page that boxes are given in
 */
export async function readScan(picture: GrayImage, dpi: number, pageScale: number): Promise<ScannedPage> {
  let best = { turns: 0 as 0 | 1 | 2 | 3, picture, page: preparePage(picture, dpi), rating: 0 };
  if (best.page.strips.length === 0) return { words: [], rules: [], skewDegrees: 0 };
  const engines: Engines = { first: await openLineReader(), second: await openOcr() };
  best.rating = await rateUpright(best.page, engines.first);
  for (const turns of [1, 3, 2] as const) {
    if (best.rating >= UPRIGHT) break;
    const turned = quarterTurn(picture, turns);
    const page = preparePage(turned, dpi);
    const rating = await rateUpright(page, engines.first);
    if (rating > best.rating) best = { turns, picture: turned, page, rating };
  }
  const scan = await readUpright(best.page, best.picture, dpi, pageScale, engines);
  if (best.turns === 0) return scan;
  const { turns } = best;
  const [width, height] = [picture.width * pageScale, picture.height * pageScale];
  return {
    ...scan,
    words: scan.words.map((word): Word => ({ ...word, box: boxBefore(word.box, turns, width, height) })),
  };
}

/** Where a box of the picture turned clockwise lies in the picture as it was. */
function boxBefore([x, y, across, down]: Box, turns: 1 | 2 | 3, width: number, height: number): Box {
  if (turns === 1) return [y, height - x - across, down, across];
  if (turns === 2) return [width - x - across, height - y - down, across, down];
  return [width - y - down, x, down, across];
}
