import { LINE_HEIGHT, type LineSession } from "./line-session.js";
import type { PreparedPage } from "./prepare-page.js";
import { pictureOf } from "./read-strip.js";

const SAMPLE = 10;
/** Long enough that it is not read by chance, short enough to be read fast; in heights of its capitals. */
const LENGTH = { least: 2.5, most: 14 };

/** How well a few of the page's longer words can be read as it stands: 0 to 1. */
export async function rateUpright({ level, blobs, strips }: PreparedPage, reader: LineSession): Promise<number> {
  const long = strips.filter(({ left, right, capHeight, blobs: own }) => {
    const length = (right - left) / capHeight;
    return length >= LENGTH.least && length <= LENGTH.most && own.length >= 3;
  });
  if (long.length === 0) return 0;
  const every = Math.max(1, Math.floor(long.length / SAMPLE));
  const sample = long.filter((_, index) => index % every === 0).slice(0, SAMPLE);
  let sum = 0;
  for (const strip of sample) {
    const characters = await reader.read(pictureOf(strip, level, blobs, LINE_HEIGHT).picture);
    const confidences = characters.map(({ confidence }) => confidence).sort((left, right) => left - right);
    if (characters.length >= 3) sum += confidences[Math.floor(confidences.length / 2)]!;
  }
  return sum / sample.length;
}
