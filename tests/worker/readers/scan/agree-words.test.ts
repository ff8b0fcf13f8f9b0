import { expect, test } from "vitest";
import { agreeWords, settleWord } from "../../../../worker/readers/scan/agree-words.js";
import type { OcrWord } from "../../../../worker/readers/scan/ocr-session.js";

const word = (text: string, confidence: number, left = 100): OcrWord => ({
  text,
  confidence,
  box: [left, 50, left + 12 * text.length, 74],
  line: [50, 74],
});

// What a report may rest on is a confidence of 0.85 and more.
const cases: readonly [first: string, sure: number, second: string, sure2: number, text: string, confidence: number][] =
  [
    ["0.024", 0.91, "0.024", 0.96, "0.024", 0.96],
    ["0.024", 0.4, "0.024", 0.96, "0.024", 0.96],
    ["0.031", 0.96, "0.081", 0.92, "0.031", 0.5],
    ["0.081", 0.92, "0.031", 0.96, "0.031", 0.5],
    ["152", 0.96, "1.52", 0.7, "1.52", 0.5],
    ["0,34", 0.9, "034", 0.95, "0,34", 0.5],
  ];

test.each(cases)("read as %s (%d) and as %s (%d)", (first, sure, second, sure2, text, confidence) => {
  expect(agreeWords([word(first, sure)], [word(second, sure2)])).toMatchObject([{ text, confidence }]);
});

test("a word that only one reading saw is kept and not sure", () => {
  expect(agreeWords([word("0.024", 0.96)], [word("H4471", 0.96, 400)])).toMatchObject([
    { text: "0.024", confidence: 0.7 },
    { text: "H4471", confidence: 0.7 },
  ]);
});

const thirds: readonly [kept: string, sure: number, rival: string, third: string, text: string, confidence: number][] =
  [
    ["0.031", 0.5, "0.081", "0.031", "0.031", 0.8], // Two of three: not enough for a value.
    ["0.031", 0.5, "0.081", "0.081", "0.081", 0.8],
    ["0.031", 0.5, "0.081", "0.051", "0.031", 0.5],
    ["0.41", 0.5, "041", "041", "0.41", 0.5],
    ["C", 0.7, "", "C", "C", 0.9], // Three alike, and no value.
    ["041", 0.7, "", "041", "041", 0.8],
  ];

test.each(thirds)("%s (%d) against %j, the third time %s", (kept, sure, rival, third, text, confidence) => {
  const agreed = { ...word(kept, sure), ...(rival === "" ? {} : { rival: word(rival, 0.5) }) };
  expect(settleWord(agreed, word(third, 0.95))).toMatchObject({ text, confidence });
});
