import type { Blob } from "./ink-blobs.js";

/** What the picture itself shows of a word. */
export interface WordInk {
  /** From left to right. */
  readonly blobs: readonly Blob[];
  readonly capHeight: number;
  /** The foot of the strip that it stands in. */
  readonly bottom: number;
}

/** The ink itself is a dash and nothing else. */
export function isDash({ blobs, capHeight }: WordInk): boolean {
  const [blob, ...others] = blobs;
  if (!blob || others.length > 0) return false;
  const [across, down] = [blob.right - blob.left, blob.bottom - blob.top];
  return across >= 0.2 * capHeight && across >= 1.6 * down && down < 0.35 * capHeight;
}

/** As small as a point, at the foot of the line. */
export function isFootPoint(blob: Blob, { capHeight, bottom }: Omit<WordInk, "blobs">): boolean {
  const [across, down] = [blob.right - blob.left, blob.bottom - blob.top];
  return down < 0.4 * capHeight && across < 0.4 * capHeight && blob.top > bottom - 0.35 * capHeight;
}

/** "0.021¹": engines read the mark of a footnote as one more figure. It is small and stands off the foot of the line. */
export function hasRaisedFigure({ blobs, capHeight, bottom }: WordInk): boolean {
  return blobs.some((blob) => {
    const height = blob.bottom - blob.top;
    return blob.bottom < bottom - 0.25 * capHeight && height >= 0.35 * capHeight && height < 0.85 * capHeight;
  });
}

/** Off the foot of the line and no higher than the small o of "N°". */
function isRaisedSign(blob: Blob, { capHeight, bottom }: WordInk): boolean {
  return blob.bottom < bottom - 0.3 * capHeight && blob.bottom - blob.top < 0.6 * capHeight;
}

const NUMERO = /^([Nn])[^\p{Lu}\d]?$/u;

/** "N°", "nº": engines take the small raised o for quotation marks, for "¢" or "?", or for nothing. */
export function numeroIn(text: string, ink: WordInk): string | undefined {
  const [, letter] = NUMERO.exec(text) ?? [];
  // "º" has a dash under it.
  const signs = ink.blobs.slice(1);
  return letter && signs.length > 0 && signs.every((sign) => isRaisedSign(sign, ink)) ? `${letter}°` : undefined;
}

const CELSIUS = /^[°"'*º]C$/;

/** "°C": a small raised sign and a capital beside it, where the engine sees the capital as C; the other engine seldom knows the sign. */
export function isCelsius(mine: string, other: string, ink: WordInk): boolean {
  const [sign, letter, ...others] = ink.blobs;
  if (!sign || !letter || others.length > 0 || !CELSIUS.test(mine) || /[FK]/.test(other)) return false;
  const isSquare = sign.right - sign.left >= 0.5 * (sign.bottom - sign.top);
  return isSquare && isRaisedSign(sign, ink) && letter.bottom - letter.top >= 0.8 * ink.capHeight;
}

const DECIMAL = /^[<>]?-?\d+[.,]\d+$/;

/**
 * "1.75" against "1:75": both see the same digits with a mark between them, and the ink shows it to be one point at the foot of the
 * line. A colon is two, a stroke is high. Where the other engine sees nothing there, a speck could be meant; that is not enough.
 */
export function isPointMisnamed(mine: string, other: string, ink: WordInk): boolean {
  if (!DECIMAL.test(mine) || other.length !== mine.length || ink.blobs.length !== mine.length) return false;
  const at = mine.search(/[.,]/);
  const isSame = mine.slice(0, at) === other.slice(0, at) && mine.slice(at + 1) === other.slice(at + 1);
  const isMark = /[^\p{L}\d.,\s-]/u.test(other[at]!);
  return isSame && isMark && ink.blobs.every((blob, index) => isFootPoint(blob, ink) === (index === at));
}
