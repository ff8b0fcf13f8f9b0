import { expect, test } from "vitest";
import { agreeOn, SURE } from "../../../../worker/readers/scan/agree-words.js";
import type { Blob } from "../../../../worker/readers/scan/ink-blobs.js";
import type { WordInk } from "../../../../worker/readers/scan/seen-in-ink.js";

const CAP = 24;
const FOOT = 100;

function blob(left: number, width: number, height: number, lift = 0): Blob {
  return { left, right: left + width, top: FOOT - lift - height, bottom: FOOT - lift, ink: width * height };
}

/** Ink of a word: "8" for a capital or a digit, "x" for a low letter, "." for a point, "-" for a dash. */
function inkOf(shape: string): WordInk {
  const blobs = [...shape].map((piece, index) => {
    if (piece === ".") return blob(index * 20, 4, 4);
    if (piece === "°") return blob(index * 20, 8, 9, 15);
    if (piece === "²") return blob(index * 20, 9, 14, 11);
    if (piece === "-") return blob(index * 20, 10, 3, 8);
    return blob(index * 20, 15, piece === "x" ? 17 : CAP);
  });
  return { blobs, capHeight: CAP, bottom: FOOT };
}

const cases: readonly [first: string, second: string, shape: string, text: string, isSure: boolean][] = [
  ["0.024", "0.024", "8.888", "0.024", true],
  ["0.031", "0.081", "8.888", "0.031", false],
  ["1.52", "152", "8.88", "1.52", false],
  ["0,34", "0.34", "8.88", "0,34", false],
  // Both lost the point that is plain to see.
  ["152", "152", "8.88", "152", false],
  ["1.52", "1.52", "8.8.8", "1.52", false],
  ["152", "152", "888", "152", true],
  // The mark of a footnote is no figure of the number.
  ["0.0212", "0.0212", "8.888²", "0.0212", false],
  ["452", "452", "88²", "452", false],
  ["-196", "-196", "-888", "-196", true],
  // A letter where only a digit can be is that digit seen otherwise; in a word it is not.
  ["101", "l0I", "888", "101", true],
  ["H4471", "H4411", "88888", "H4471", false],
  ["0.024", "", "8.888", "0.024", false],
  ["", "0.024", "8.888", "0.024", false],
  // Height tells a capital from its small letter.
  ["c", "C", "8", "C", true],
  ["C", "c", "x", "c", true],
  ["P", "Pp", "8", "P", true],
  ["S", "5", "8", "S", false],
  ["mm2", "mm?", "xx8", "mm2", true],
  ["Posicion", "Posición", "88888888", "Posición", true],
  // A digit in the midst of a long word is the letter that the other engine reads; not in a short one, nor in a number of a heat.
  ["Composici6n", "Composición", "88888888888", "Composición", true],
  ["Composici6n", "Composicion", "88888888888", "Composicion", true],
  ["Composici6n", "Composician", "88888888888", "Composici6n", false],
  ["B6b", "Bob", "888", "B6b", false],
  ["HEAT0123", "HEATO123", "88888888", "HEAT0123", true],
  ["HTAB6CDE", "HTABOCDE", "88888888", "HTAB6CDE", false],
  ["N", "", "8°", "N°", true],
  ["N", "No", "8x", "No", true],
  // As many characters as pieces of ink; never in a number.
  ["[]", "[J]", "888", "[J]", true],
  ["[1", "[1]", "888", "[1", false],
  ["14", "144", "888", "14", false],
  ["[J]", "[J)]", "888", "[J]", true],
  ["(J)", "(3)", "888", "(J)", false],
  // A sign that only one engine knows, where the ink shows it.
  ["°C", "NG", "°8", "°C", true],
  ['"C', "2C", "°8", "°C", true],
  ["°C", "NG", "88", "°C", false],
  ["°C", "°F", "°8", "°C", false],
  ["n", "n¢", "x°", "n°", true],
  ["N", "N", "8°°", "N°", true],
  // Both see a mark between the same digits, and the ink shows one point there.
  ["1.75", "1:75", "8.88", "1.75", true],
  ["1.75", "1:75", "8888", "1.75", false],
  ["1.75", "1575", "8.88", "1.75", false],
  ["1.75", "1:76", "8.88", "1.75", false],
  // Letters of one shape in a word with digits.
  ["KV2", "Kv2", "888", "KV2", true],
  ["Rp0,2", "Rpo,2", "888.8", "Rp0,2", true],
];

test.each(cases)("read as %j and as %j, drawn as %s", (first, second, shape, text, isSure) => {
  const agreed = agreeOn({ text: first, confidence: 0.97 }, { text: second, confidence: 0.9 }, inkOf(shape));
  expect({ text: agreed.text, isSure: agreed.confidence >= SURE }).toEqual({ text, isSure });
});

test("a dash is known by its ink", () => {
  expect(agreeOn({ text: "", confidence: 0 }, { text: "~", confidence: 0.3 }, inkOf("-"))).toEqual({
    text: "-",
    confidence: 0.95,
  });
});

test("two readings alike are not sure where the first engine hardly saw the word", () => {
  const faint = agreeOn({ text: "0.024", confidence: 0.3 }, { text: "0.024", confidence: 0.9 }, inkOf("8.888"));
  expect(faint.confidence).toBeLessThan(SURE);
});
