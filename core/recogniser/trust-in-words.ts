import type { Cell } from "./cells.js";
import type { TitleReader } from "./title-reader.js";

/** Letters that a text needs before chance can't have made a known title of it. */
const LEAST_LETTERS = 6;
/** Confidence of a title that OCR was not sure of, and that is a known one to the last letter all the same. */
const KNOWN_WORDS = 0.9;

/**
 * How far the meaning of a title or label can be relied on. A misread letter makes "Tensile strength" unknown, not another title,
 * so long words that are understood confirm themselves. Digits do not ("A50" and "A80", "-196"), nor do symbols ("C" and "Cr").
 */
export function trustInWords(cell: Cell, titles: TitleReader): number {
  if (cell.confidence >= KNOWN_WORDS) return cell.confidence;
  const words = cell.text.replace(/mm\s?[²2]/g, "");
  const letters = words.replace(/[^\p{L}]/gu, "").length;
  const isWordy = letters >= LEAST_LETTERS && !/\d/.test(words);
  return isWordy && titles.read(cell.text).rest === "" && titles.kindOf(cell) !== "text"
    ? KNOWN_WORDS
    : cell.confidence;
}
