import type { Word } from "../../../../worker/readers/layout/word.js";

const LETTER = 5;
const HEIGHT = 9;

/** Words as they stand in a drawing: a character is 5 wide; `top` is in points. Two spaces are a gap between cells. */
export function wordsOf(lines: readonly (readonly [top: number, text: string])[]): Word[] {
  return lines.flatMap(([top, text]) =>
    [...text.matchAll(/\S+/g)].map((match): Word => {
      const left = match.index * LETTER;
      const right = left + match[0].length * LETTER;
      const box = [left, top, right - left, HEIGHT] as const;
      return { text: match[0], left, right, top, bottom: top + HEIGHT, box, confidence: 1 };
    }),
  );
}
