import type { Word } from "./word.js";

type Placed = Pick<Word, "left" | "top" | "bottom">;

/**
 * Words that stand beside each other, top row first, each row from left to right. A word joins the row that it overlaps by more
 * than half of the lower of the two; sorting by y alone would tear rows apart wherever baselines differ by a hair.
 */
export function bandRows<T extends Placed>(words: readonly T[]): T[][] {
  const rows: { top: number; bottom: number; words: T[] }[] = [];
  for (const word of [...words].sort((left, right) => middle(left) - middle(right))) {
    // Rows are opened from the top down, so only the last few can still be beside this word.
    const row = rows.slice(-4).find((candidate) => overlap(candidate, word) > 0.5);
    if (row) row.words.push(word);
    else rows.push({ top: word.top, bottom: word.bottom, words: [word] });
  }
  return rows.map((row) => row.words.sort((left, right) => left.left - right.left));
}

function middle({ top, bottom }: Placed): number {
  return (top + bottom) / 2;
}

function overlap(row: { top: number; bottom: number }, word: Placed): number {
  const shared = Math.min(row.bottom, word.bottom) - Math.max(row.top, word.top);
  return shared / Math.max(0.1, Math.min(row.bottom - row.top, word.bottom - word.top));
}
