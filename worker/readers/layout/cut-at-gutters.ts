import { isTypewriter, isWithinReach, relativeGap, relativeWidth, type Segment, toSegment } from "./segments.js";
import type { Word } from "./word.js";

/** In heights of the line, and in widths of a character in type of one width: wider than any space inside a phrase. */
const LEAST_GAP = 0.42;
const LEAST_TYPEWRITER_GAP = 1.05;
/** What all lines must leave free, in heights of the line. */
const LEAST_GUTTER = 0.3;
/** Lines that leave it free, with writing on both sides. */
const FEWEST_LINES = 3;
/** Lines looked at above and below, and how far apart they may stand, in heights of the line. */
const LINES_LOOKED_AT = 12;
const REACH = 2.5;
/** A page of more words is no certificate. */
const WORD_LIMIT = 5_000;

/**
 * "N67584 C" over "N67584 Si" over "N67584 Mn": the gap is too narrow to part cells in one line, but no phrase leaves the same strip
 * free line after line. Pieces are cut where several lines in a row have such a strip.
 */
export function cutAtGutters(lines: readonly (readonly Segment[])[]): Segment[][] {
  const words = lines.map((line) => line.flatMap((segment) => segment.words));
  if (words.flat().length > WORD_LIMIT) return lines.map((line) => [...line]);
  return lines.map((line, at) => line.flatMap((segment) => cutSegment(segment, words, at)));
}

function cutSegment(segment: Segment, lines: readonly (readonly Word[])[], at: number): Segment[] {
  const pieces: Word[][] = [];
  for (const word of segment.words) {
    const before = pieces.at(-1)?.at(-1);
    if (before && !(isWideEnough(before, word) && isGutter(before, word, lines, at))) pieces.at(-1)!.push(word);
    else pieces.push([word]);
  }
  return joinUnsupported(pieces, linesBeside(lines, at)).map(toSegment);
}

/**
 * "Elongation 50 mm [%]" over one column of values: between its words nothing stands on the lines below either, but a column is only
 * where something stands under it. Words without any go to the nearer neighbour; alone, "Elongation" would be another quantity.
 */
function joinUnsupported(pieces: readonly Word[][], lines: readonly (readonly Word[])[]): Word[][] {
  const joined = pieces.map((words) => ({ words, isSupported: isSupported(words, lines) }));
  while (joined.length > 1) {
    const index = joined.findIndex((piece) => !piece.isSupported);
    if (index < 0) break;
    const first = gapBefore(joined, index) <= gapBefore(joined, index + 1) ? index - 1 : index;
    const [left, right] = [joined[first]!, joined[first + 1]!];
    const whole = { words: [...left.words, ...right.words], isSupported: left.isSupported || right.isSupported };
    joined.splice(first, 2, whole);
  }
  return joined.map(({ words }) => words);
}

function gapBefore(pieces: readonly { readonly words: readonly Word[] }[], index: number): number {
  const [before, after] = [pieces[index - 1]?.words.at(-1), pieces[index]?.words[0]];
  return before && after ? after.left - before.right : Number.POSITIVE_INFINITY;
}

function isSupported(words: readonly Word[], lines: readonly (readonly Word[])[]): boolean {
  const [left, right] = [words[0]!.left, words.at(-1)!.right];
  return lines.some((line) => line.some((word) => word.left < right && word.right > left));
}

/** The lines above and below that a gutter is looked for in. */
function linesBeside(lines: readonly (readonly Word[])[], at: number): (readonly Word[])[] {
  return [-1, 1].flatMap((step) => {
    const beside: (readonly Word[])[] = [];
    for (let index = at + step; Math.abs(index - at) <= LINES_LOOKED_AT; index += step) {
      const line = lines[index];
      if (!line || !isWithinReach(lines[index - step]![0]!, line[0]!, REACH)) break;
      beside.push(line);
    }
    return beside;
  });
}

function isWideEnough(before: Word, after: Word): boolean {
  const least = isTypewriter([before, after])
    ? Math.max(LEAST_GAP, LEAST_TYPEWRITER_GAP * relativeWidth(before))
    : LEAST_GAP;
  return relativeGap(before, after) >= least;
}

interface Strip {
  readonly left: number;
  readonly right: number;
}

function isGutter(before: Word, after: Word, lines: readonly (readonly Word[])[], at: number): boolean {
  const least = LEAST_GUTTER * Math.min(before.bottom - before.top, after.bottom - after.top);
  let strip: Strip = { left: before.right, right: after.left };
  let count = 1;
  for (const step of [-1, 1]) {
    for (let index = at + step; Math.abs(index - at) <= LINES_LOOKED_AT; index += step) {
      const line = lines[index];
      if (!line || !isWithinReach(lines[index - step]![0]!, line[0]!, REACH)) break;
      const free = freeOf(line, strip);
      // "Weld metal" in the middle between the rows: a heading over the columns, not a part of them.
      if (!free && line.length > 1 && isPhrase(line)) continue;
      if (!free || free.right - free.left < least) break;
      strip = free;
      const isBetween = line.some(({ right }) => right <= strip.left) && line.some((word) => word.left >= strip.right);
      if (isBetween) count++;
    }
  }
  return count >= FEWEST_LINES;
}

function isPhrase(line: readonly Word[]): boolean {
  return line.slice(1).every((word, index) => relativeGap(line[index]!, word) < LEAST_GAP);
}

/** What a line leaves free of the strip; nothing where a word stands across it or inside it. */
function freeOf(line: readonly Word[], strip: Strip): Strip | undefined {
  let { left, right } = strip;
  for (const word of line) {
    if (word.right <= left || word.left >= right) continue;
    if (word.left <= left && word.right < right) left = word.right;
    else if (word.left > left && word.right >= right) right = word.left;
    else return undefined;
  }
  return { left, right };
}
