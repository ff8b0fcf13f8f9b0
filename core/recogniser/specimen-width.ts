import { compare, parseDecimal } from "../quantity/decimal.js";
import type { Measure } from "../quantity/measure.js";

/**
 * Finds "10x7.5", "10 x 10 x 55 mm", "10x5" in tidied text. The cross-section of a Charpy piece is 10 mm high by
 * ISO 148-1 and ASTM E23, so the other side is the width: the smaller of the first two numbers.
 */
export function readSpecimenWidthIn(text: string): { width: Measure; matched: string } | undefined {
  const match =
    /(?<![\d.])(\d{1,2}(?:[.,]\d+)?)\s?(?:mm)?\s?[xX*]\s?(\d{1,2}(?:[.,]\d+)?)(?:\s?(?:mm)?\s?[xX*]\s?55)?(?![\d.])\s?(?:mm\b)?/.exec(
      text,
    );
  if (!match) return undefined;
  const sides = [match[1], match[2]].map((side) => parseDecimal(side!.replace(",", "."))!);
  const [first, second] = sides as [(typeof sides)[0], (typeof sides)[0]];
  const ten = { digits: 10n, places: 0 };
  if (compare(first, ten) !== 0 && compare(second, ten) !== 0) return undefined;
  return { width: { value: compare(first, second) < 0 ? first : second, unit: "mm" }, matched: match[0] };
}
