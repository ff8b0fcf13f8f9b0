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

/**
 * Widths in mm of the sub-size pieces that are named as shares of the full one (ASTM A370 and E23: 7.5, 6.7, 5, 3.3 and 2.5 mm;
 * recalled, not looked up).
 */
const SHARES: readonly (readonly [said: RegExp, width: string])[] = [
  [/^(?:full|1\/1)$/, "10"],
  [/^(?:3\/4|¾|three[- ]quarters?)$/, "7.5"],
  [/^(?:2\/3|⅔|two[- ]thirds?)$/, "6.7"],
  [/^(?:1\/2|½|half)$/, "5"],
  [/^(?:1\/3|⅓|one[- ]third)$/, "3.3"],
  [/^(?:1\/4|¼|one[- ]quarter|quarter)$/, "2.5"],
];

/** "1/2", "half size", "¾ sub-size" as a whole cell beside impact results; "unknown" for a sub-size that does not say which. */
export function readSpecimenShare(text: string): Measure | "unknown" | undefined {
  const said = text
    .trim()
    .toLowerCase()
    .replace(/[-\s]*(?:sub-?\s?)?size$/, "");
  const width = SHARES.find(([pattern]) => pattern.test(said))?.[1];
  if (width !== undefined) return { value: parseDecimal(width)!, unit: "mm" };
  return /^(?:sub-?\s?size|reduced(?: size)?)$/i.test(text.trim()) ? "unknown" : undefined;
}
