import {
  hasRaisedFigure,
  isCelsius,
  isDash,
  isFootPoint,
  isPointMisnamed,
  numeroIn,
  type WordInk,
} from "./seen-in-ink.js";

/** What one engine made of a word. */
export interface WordReading {
  readonly text: string;
  /** 0 to 1. */
  readonly confidence: number;
}

/** Readings from here on may decide: above `CONFIDENCE_THRESHOLD` of the certificates. */
export const SURE = 0.85;
/** Two engines that share neither model nor method spell the word alike. */
const AGREED = 0.95;
/** Alike, but one of them hardly saw it. */
const AGREED_FAINTLY = 0.8;
const FAINT = 0.4;
/** They differ: well below what a finding may rest on. */
const DISAGREED = 0.5;
/** Only one of them saw anything. */
const SEEN_ONCE = 0.6;
/** One engine's spelling, with the ink's count of characters behind it. */
const LETTERS_COUNTED = 0.9;
/** The ink itself is a dash and nothing else. */
const DASH = 0.95;

/**
 * One word from two independent readings of its picture. An engine's own confidence says little about digits; that another engine
 * reads the same says much. Numbers are taken as the first engine spells them or doubted, never mended.
 */
export function agreeOn(first: WordReading, second: WordReading, ink: WordInk): WordReading {
  if (isDash(ink)) return { text: "-", confidence: DASH };
  const numero = numeroIn(first.text, ink) ?? numeroIn(second.text, ink);
  if (numero !== undefined) return { text: numero, confidence: LETTERS_COUNTED };
  const mine = inCase(first.text, ink);
  const other = inCase(undouble(second.text, ink), ink);
  if (isCelsius(mine, other, ink)) return { text: "°C", confidence: LETTERS_COUNTED };
  if (mine === "") return { text: other, confidence: Math.min(SEEN_ONCE, Math.max(0, second.confidence)) };
  if (other === "") return { text: mine, confidence: Math.min(SEEN_ONCE, first.confidence) };
  const text = withAccents(mine, other);
  if (hasGhost(mine, other, ink) || hasDigitForLetter(mine, other)) return { text: other, confidence: LETTERS_COUNTED };
  if (hasGhost(other, mine, ink) || isPointMisnamed(mine, other, ink))
    return { text: mine, confidence: LETTERS_COUNTED };
  if (fold(mine, mine) !== fold(other, mine) || losesPoint(mine, ink) || (isFigure(mine) && hasRaisedFigure(ink))) {
    return { text, confidence: Math.min(DISAGREED, first.confidence) };
  }
  return { text, confidence: first.confidence >= FAINT ? AGREED : AGREED_FAINTLY };
}

/**
 * In short words without digits one engine sees less or more than is there: "[]" for "[J]". Where the other spells as many
 * characters as there are pieces of ink, and all else is the same, it is right.
 */
function hasGhost(mine: string, other: string, { blobs }: WordInk): boolean {
  if (/\d/.test(mine + other) || other.length !== blobs.length || Math.abs(mine.length - other.length) !== 1)
    return false;
  const [short, long] = mine.length < other.length ? [mine, other] : [other, mine];
  return [...long].some((_, index) => long.slice(0, index) + long.slice(index + 1) === short);
}

/** Letters of a long word before a digit in it can't be one. */
const LONG_WORD = 6;
const LIKE_DIGITS: Readonly<Record<string, string>> = { "0": "o", "6": "o", "1": "il", "5": "s" };

/**
 * "Composici6n" against "Composicion": the first engine knows few accents and takes such a letter for a digit. In the midst of a long
 * word of small letters that the other spells without any digit, it is the letter.
 */
function hasDigitForLetter(mine: string, other: string): boolean {
  if (mine.length !== other.length || !/^\p{L}\p{Ll}+$/u.test(other) || mine.length < LONG_WORD) return false;
  const [plain, letters] = [bare(mine), bare(other)];
  const at = [...plain].findIndex((character, index) => character !== letters[index]);
  if (at < 1 || at === plain.length - 1 || plain.length !== letters.length) return false;
  const isLike = LIKE_DIGITS[plain[at]!]?.includes(letters[at]!) ?? false;
  return isLike && plain.slice(at + 1) === letters.slice(at + 1);
}

function bare(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "");
}

/** Spelt so that what the engines cannot tell apart, or what means the same, is equal. */
function fold(text: string, spelling: string): string {
  const plain = text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/[–—−]/g, "-")
    .replace(/°C|℃|°c/g, "°C")
    .replace(/mm(\?2|[?2])/g, "mm2")
    .replace(/[’`´]/g, "'");
  if (!/\d/.test(spelling)) return plain.toLowerCase();
  // In a word with digits a letter that looks like one is that digit, seen through other eyes; and letters of one shape differ in height only.
  const digits = plain.replace(/[lI|]/g, "1").replace(/[Oo]/g, "0");
  return digits.replace(/[CSVWXZPUK]/g, (letter) => letter.toLowerCase());
}

/** The first engine knows few accents; where the other agrees but for them, its spelling is the fuller one. */
function withAccents(mine: string, other: string): string {
  return bare(other) === bare(mine) && other.length === mine.length ? other : mine;
}

const SAME_SHAPE = /^[cosvwxzpuk]i?$/i;

/** "C" and "c" differ in height only, which is plain to see. */
export function inCase(text: string, { blobs, capHeight }: WordInk): string {
  if (!SAME_SHAPE.test(text)) return text;
  const first = blobs.find((blob) => blob.bottom - blob.top >= 0.4 * capHeight);
  if (!first) return text;
  const isCapital = first.bottom - first.top >= 0.86 * capHeight;
  return (isCapital ? text[0]!.toUpperCase() : text[0]!.toLowerCase()) + text.slice(1);
}

/** A lone capital is often read as itself and its small letter, "Cc": one blot of ink is one letter. */
function undouble(text: string, { blobs }: WordInk): string {
  const [first, second] = text;
  return text.length === 2 && blobs.length === 1 && first!.toLowerCase() === second!.toLowerCase() ? first! : text;
}

/** More blots at the foot of a number, as small as a point, than the reading has points and commas. */
function losesPoint(text: string, ink: WordInk): boolean {
  if (!/^[<>]?-?[\d.,]+$/.test(text)) return false;
  return ink.blobs.filter((blob) => isFootPoint(blob, ink)).length > text.replace(/[^.,]/g, "").length;
}

function isFigure(text: string): boolean {
  return /^[<>]?-?[\d.,]+\)?$/.test(text);
}
