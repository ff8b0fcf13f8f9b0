import { bandRows } from "../layout/band-rows.js";
import type { Box, Rule, Word } from "../layout/word.js";
import type { Glyph, PageInk } from "./ink-collector.js";
import type { Stroke } from "./trace-path.js";

export interface PageWords {
  readonly words: Word[];
  /** Words that something was painted over; nobody sees them. */
  readonly overpainted: Word[];
  readonly rules: Rule[];
}

/** Quarter turns that the page's writing is turned clockwise, as shown. */
type Turn = 0 | 1 | 2 | 3;

interface PlacedGlyph {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly baseline: number;
  readonly size: number;
  readonly bold: boolean;
  readonly turn: Turn;
}

/** Heights that fonts state are not to be relied on: some hold several ems, and then every row would overlap the next. */
const ASCENT = 0.75;
const DESCENT = -0.22;
/** A gap wider than this share of the type size parts two words where no space is drawn. */
const WORD_GAP = 0.2;

/**
 * Words and ruling lines in an upright frame. A table printed sideways is turned upright first; what then still stands
 * sideways (a heading turned to save room) keeps its place as one word after the other.
 */
export function buildWords(ink: PageInk): PageWords {
  const glyphs = ink.glyphs.filter((glyph) => isOnPage(glyph, ink));
  const turn = mainTurn(glyphs);
  const rules = ink.strokes.flatMap((stroke) => toRule(stroke, turn, ink));
  const wordsOf = (all: readonly Glyph[]) =>
    ([0, 1, 2, 3] as const).flatMap((own) => {
      const turned = all.filter((glyph) => turnOf(glyph) === own);
      return joinGlyphs(turned.map((glyph) => placeGlyph(glyph, own, ink))).map((word) => settle(word, own, turn, ink));
    });
  const overpainted = wordsOf(ink.overpainted);
  const levelRules = rules.filter(({ direction }) => direction === "level");
  const words = wordsOf(glyphs).map((word) => markCovering(markStruck(word, levelRules), overpainted));
  return { words, overpainted, rules };
}

/** The same word painted twice, as when a row is shaded afterwards, changes nothing. */
function markCovering(word: Word, overpainted: readonly Word[]): Word {
  const below = overpainted.filter((other) => overlaps(word, other)).map(({ text }) => text);
  return below.length > 0 && below.join("") !== word.text ? { ...word, covers: below.join(" ") } : word;
}

function overlaps(one: Word, other: Word): boolean {
  const width = Math.min(one.right, other.right) - Math.max(one.left, other.left);
  const height = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
  const least = Math.min(one.right - one.left, other.right - other.left);
  return width > 0.2 * least && height > 0.3 * Math.min(one.bottom - one.top, other.bottom - other.top);
}

function isOnPage({ x, y, text }: Glyph, { width, height }: PageInk): boolean {
  return text.trim() !== "" ? x >= -2 && y >= -2 && x <= width + 2 && y <= height + 2 : true;
}

function turnOf({ x, y, endX, endY }: Glyph): Turn {
  const [across, down] = [endX - x, endY - y];
  if (Math.abs(across) >= Math.abs(down)) return across >= 0 ? 0 : 2;
  return down > 0 ? 1 : 3;
}

function mainTurn(glyphs: readonly Glyph[]): Turn {
  const counts = [0, 0, 0, 0];
  for (const glyph of glyphs) if (glyph.text.trim() !== "") counts[turnOf(glyph)]!++;
  return counts.indexOf(Math.max(...counts)) as Turn;
}

/** A point of the page as shown, in the frame in which writing of that turn is upright. */
function toFrame(x: number, y: number, turn: Turn, { width, height }: PageInk): [number, number] {
  if (turn === 1) return [y, width - x];
  if (turn === 2) return [width - x, height - y];
  if (turn === 3) return [height - y, x];
  return [x, y];
}

function fromFrame(u: number, v: number, turn: Turn, { width, height }: PageInk): [number, number] {
  if (turn === 1) return [width - v, u];
  if (turn === 2) return [width - u, height - v];
  if (turn === 3) return [v, height - u];
  return [u, v];
}

function placeGlyph(glyph: Glyph, turn: Turn, ink: PageInk): PlacedGlyph {
  const [left, baseline] = toFrame(glyph.x, glyph.y, turn, ink);
  const [right] = toFrame(glyph.endX, glyph.endY, turn, ink);
  const { text, size, bold } = glyph;
  return {
    text,
    left,
    right,
    baseline,
    size,
    bold,
    turn,
    top: baseline - ASCENT * size,
    bottom: baseline - DESCENT * size,
  };
}

/** Drawing order means nothing; characters are joined by where they stand. */
function joinGlyphs(glyphs: readonly PlacedGlyph[]): PlacedGlyph[][] {
  const words: PlacedGlyph[][] = [];
  for (const row of bandRows(glyphs)) {
    let word: PlacedGlyph[] = [];
    for (const glyph of row) {
      const before = word.at(-1);
      if (glyph.text.trim() === "") {
        // A space drawn over ink, as some programs pad with, parts nothing.
        if (!before || glyph.right > before.right) word = [];
        continue;
      }
      if (before && isOverprint(before, glyph)) continue;
      if (before && glyph.left - before.right <= WORD_GAP * Math.max(before.size, glyph.size)) {
        word.push(glyph);
      } else {
        word = [glyph];
        words.push(word);
      }
    }
  }
  return words;
}

/** The same character twice, a hair apart: the poor printer's bold. */
function isOverprint(before: PlacedGlyph, glyph: PlacedGlyph): boolean {
  return before.text === glyph.text && glyph.left - before.left < 0.3 * (before.right - before.left);
}

function settle(glyphs: readonly PlacedGlyph[], own: Turn, turn: Turn, ink: PageInk): Word {
  const left = Math.min(...glyphs.map((glyph) => glyph.left));
  const right = Math.max(...glyphs.map((glyph) => glyph.right));
  const top = Math.min(...glyphs.map((glyph) => glyph.top));
  const bottom = Math.max(...glyphs.map((glyph) => glyph.bottom));
  const corners = [fromFrame(left, top, own, ink), fromFrame(right, bottom, own, ink)] as const;
  const box = boxOf(...corners);
  const [frameLeft, frameTop, width, height] = boxOf(
    toFrame(...corners[0], turn, ink),
    toFrame(...corners[1], turn, ink),
  );
  const bold = glyphs.every((glyph) => glyph.bold);
  return {
    text: spell(glyphs),
    left: frameLeft,
    top: frameTop,
    right: frameLeft + width,
    bottom: frameTop + height,
    box,
    confidence: 1,
    ...(bold ? { bold } : {}),
  };
}

function boxOf([x1, y1]: readonly [number, number], [x2, y2]: readonly [number, number]): Box {
  return [Math.min(x1, x2), Math.min(y1, y2), Math.abs(x2 - x1), Math.abs(y2 - y1)];
}

const RAISED: Readonly<Record<string, string>> = Object.fromEntries(
  [..."0123456789-−+"].map((letter, index) => [letter, [..."⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁻⁺"][index]!]),
);

/** Small digits above the line are exponents: "×10" and a raised "-3" must not become "×10-3". */
function spell(glyphs: readonly PlacedGlyph[]): string {
  const size = Math.max(...glyphs.map((glyph) => glyph.size));
  const baseline = glyphs.find((glyph) => glyph.size === size)!.baseline;
  return glyphs
    .map((glyph) => {
      const isRaised = glyph.size < 0.85 * size && baseline - glyph.baseline > 0.15 * size;
      return (isRaised ? RAISED[glyph.text] : undefined) ?? glyph.text;
    })
    .join("")
    .normalize("NFC");
}

function toRule({ fromX, fromY, toX, toY }: Stroke, turn: Turn, ink: PageInk): Rule[] {
  const [x1, y1] = toFrame(fromX, fromY, turn, ink);
  const [x2, y2] = toFrame(toX, toY, turn, ink);
  if (Math.abs(y2 - y1) < 1 && Math.abs(x2 - x1) > 3) {
    return [{ direction: "level", at: (y1 + y2) / 2, from: Math.min(x1, x2), to: Math.max(x1, x2) }];
  }
  if (Math.abs(x2 - x1) < 1 && Math.abs(y2 - y1) > 3) {
    return [{ direction: "upright", at: (x1 + x2) / 2, from: Math.min(y1, y2), to: Math.max(y1, y2) }];
  }
  return [];
}

/** A line through the middle of a word strikes it out. */
function markStruck(word: Word, levelRules: readonly Rule[]): Word {
  const height = word.bottom - word.top;
  const struck = levelRules.some(({ at, from, to }) => {
    if (at < word.top + 0.3 * height || at > word.bottom - 0.3 * height) return false;
    return Math.min(to, word.right) - Math.max(from, word.left) > 0.7 * (word.right - word.left);
  });
  return struck ? { ...word, struck } : word;
}
