import { isNumeric, type Word } from "./word.js";

/** Words of one row that stand close enough to be read as one piece. */
export interface Segment {
  readonly words: readonly Word[];
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** In heights of a line: what parts words, what parts two numbers, and what parts anything in a row of many pieces. */
const GAP = { words: 1, numbers: 0.4, typewriterNumbers: 0.64, crowded: 0.55 };
const CROWDED_ROW = 4;
/** In type of one width a space is as wide as any character. */
const TYPEWRITER_SPACE = 1.3;
/** Digits of type of one width are so wide, in heights of the line; other digits are narrower. */
const TYPEWRITER_DIGIT = 0.6;

/** Cuts a row where the gaps are wider than spaces. Numbers are cut apart sooner than words: a phrase has spaces, a value none. */
export function cutSegments(row: readonly Word[]): Segment[] {
  const pieces = cut(row, GAP.words);
  return pieces.length >= CROWDED_ROW ? cut(row, GAP.crowded) : pieces;
}

export function toSegment(words: readonly Word[]): Segment {
  return {
    words,
    left: Math.min(...words.map((word) => word.left)),
    right: Math.max(...words.map((word) => word.right)),
    top: Math.min(...words.map((word) => word.top)),
    bottom: Math.max(...words.map((word) => word.bottom)),
  };
}

/** Whether one line stands no further below another than so many heights of the lower type. */
export function isWithinReach(one: Extent, other: Extent, heights: number): boolean {
  const gap = Math.max(one.top, other.top) - Math.min(one.bottom, other.bottom);
  return gap <= heights * Math.min(one.bottom - one.top, other.bottom - other.top);
}

type Extent = Pick<Word, "top" | "bottom">;

/** The gap between neighbours in heights of their line. */
export function relativeGap(before: Word, after: Word): number {
  return (after.left - before.right) / Math.max(1, Math.min(before.bottom - before.top, after.bottom - after.top));
}

function cut(row: readonly Word[], widest: number): Segment[] {
  const pieces: Word[][] = [];
  for (const word of row) {
    const before = pieces.at(-1)?.at(-1);
    if (before && relativeGap(before, word) <= widestGap(before, word, widest)) pieces.at(-1)!.push(word);
    else pieces.push([word]);
  }
  return pieces.map(toSegment);
}

function widestGap(before: Word, after: Word, widest: number): number {
  if (isNumeric(before.text) && isNumeric(after.text)) {
    const isOneWidth = Math.min(relativeWidth(before), relativeWidth(after)) >= TYPEWRITER_DIGIT;
    return isOneWidth ? GAP.typewriterNumbers : GAP.numbers;
  }
  return Math.max(widest, (TYPEWRITER_SPACE * (relativeWidth(before) + relativeWidth(after))) / 2);
}

const SAME_WIDTH = 0.03;
/** Typewriter faces are drawn 0.6 wide for each unit of type size. */
const TYPEWRITER_WIDTHS = { least: 0.58, most: 0.67 };

/** Whether words are set in type of one width: then a space is as wide as any of their characters. */
export function isTypewriter(words: readonly Word[]): boolean {
  const widths = words.map(relativeWidth);
  const [least, most] = [Math.min(...widths), Math.max(...widths)];
  return most - least < SAME_WIDTH && least >= TYPEWRITER_WIDTHS.least && most <= TYPEWRITER_WIDTHS.most;
}

/** Of one of its characters, in heights of the line. */
export function relativeWidth({ left, right, top, bottom, text }: Word): number {
  return (right - left) / Math.max(1, text.length) / Math.max(1, bottom - top);
}
