import { expect, test } from "vitest";
import { buildPageTables } from "../../../../worker/readers/layout/page-tables.js";
import { createGray } from "../../../../worker/readers/scan/gray-image.js";
import type { OcrWord } from "../../../../worker/readers/scan/ocr-session.js";
import { preparePage } from "../../../../worker/readers/scan/prepare-page.js";
import type { Engines } from "../../../../worker/readers/scan/read-strip.js";
import { readUpright } from "../../../../worker/readers/scan/read-upright.js";

const DPI = 300;
const WIDTH = 400;
/** Letters as bars of ink: so wide and high, so far from one to the next. */
const LETTER = { width: 12, height: 24, pitch: 16 };
/** A comma, in the middle of a letter's room unless said otherwise. */
const SIGN = { width: 4, height: 4, left: 4 };
const LEFT = 40;
/** White that the engines are shown on either side of a strip, and the border round it for the second one. */
const SHOWN_BESIDE = 7;
const BORDER = 12;

interface Letter {
  readonly text: string;
  readonly left: number;
}

/** The words' letters in a line, with so many pixels of white between the last letter of a word and the first of the next. */
function lettersOf(words: readonly string[], space: number): Letter[][] {
  let left = LEFT;
  return words.map((word) => {
    const letters = [...word].map((text, index) => ({ text, left: left + index * LETTER.pitch }));
    left = letters.at(-1)!.left + LETTER.width + space;
    return letters;
  });
}

/** Engines that see what is drawn, but for words that `isSeen` leaves out. */
function enginesFor(words: readonly Letter[][], isSeen: (word: readonly Letter[]) => boolean): Engines {
  const visible = words.filter(isSeen);
  const end = words.flat().at(-1)!.left + LETTER.width;
  const shareOf = (x: number) => (x - LEFT + SHOWN_BESIDE) / (end - LEFT + 2 * SHOWN_BESIDE);
  const seen = async (image: { width: number }): Promise<OcrWord[]> => {
    const at = (x: number) => BORDER + shareOf(x) * (image.width - 2 * BORDER);
    return visible.map((letters) => ({
      text: letters.map(({ text }) => text).join(""),
      confidence: 0.9,
      box: [at(letters[0]!.left), 0, at(letters.at(-1)!.left + LETTER.width), 48],
      line: [0, 48],
    }));
  };
  return {
    first: {
      read: async () =>
        visible.flat().map(({ text, left }) => ({ text, at: shareOf(left + LETTER.width / 2), confidence: 0.9 })),
    },
    second: { readLine: seen, readWord: seen },
  };
}

interface Drawing {
  /** Where a comma stands in its room. */
  readonly signLeft?: number;
  readonly words: readonly string[];
  readonly space: number;
  /** Of the last word, which neither engine sees. */
  readonly unseen?: { readonly width: number; readonly height: number };
}

/** What stands in the cells of a page that says the same on four lines. */
async function cellsOf({
  words,
  space,
  unseen,
  signLeft = SIGN.left,
}: Drawing): Promise<{ text: string; confidence: number }[]> {
  const letters = lettersOf(words, space);
  const last = letters.at(-1)!;
  const page = createGray(WIDTH, 300);
  for (const foot of [64, 109, 154, 199]) {
    for (const letter of letters.flat()) {
      const isSign = letter.text === ",";
      const { width, height } = isSign ? SIGN : (last.includes(letter) && unseen) || LETTER;
      const left = letter.left + (isSign ? signLeft : 0);
      for (let y = foot - height; y < foot; y++) page.pixels.fill(0, y * WIDTH + left, y * WIDTH + left + width);
    }
  }
  const engines = enginesFor(letters, (word) => !unseen || word !== last);
  const scan = await readUpright(preparePage(page, DPI), page, DPI, 1, engines);
  return buildPageTables(scan.words, scan.rules).flatMap(({ cells }) =>
    cells.map((cell) => ({
      text: cell.words.map(({ text }) => text).join(" "),
      confidence: Math.min(...cell.words.map(({ confidence }) => confidence)),
    })),
  );
}

async function textsOf(drawing: Drawing): Promise<string[]> {
  return (await cellsOf(drawing)).map(({ text }) => text);
}

test("a word's white beside its ink belongs to it: a space that is as wide on every line parts no columns", async () => {
  expect(await textsOf({ words: ["BASE", "METAL"], space: 15 })).toEqual(Array(4).fill("BASE METAL"));
});

test("white that is wider than a space and its words' own parts columns", async () => {
  expect(await textsOf({ words: ["BASE", "METAL"], space: 19 })).toEqual(Array(4).fill(["BASE", "METAL"]).flat());
});

test("white beside a decimal sign is no space, though an engine takes it for one", async () => {
  expect(await textsOf({ words: ["0,", "53"], space: 6 })).toEqual(Array(4).fill("0,53"));
});

test("white behind the comma of a list is a space", async () => {
  const list = { words: ["98,", "53"], space: 5, signLeft: 0 };
  expect(await textsOf(list)).toEqual(Array(4).fill("98, 53"));
});

test("writing that neither engine can spell is kept as such, and no cell that it stands in is relied on", async () => {
  const cells = await cellsOf({ words: ["BASE", "M"], space: 15, unseen: LETTER });
  expect(cells).toEqual(Array(4).fill({ text: "BASE ?", confidence: 0 }));
});

test("the stump of a line is no writing", async () => {
  const stump = { width: 2, height: 24 };
  expect(await textsOf({ words: ["BASE", "M"], space: 21, unseen: stump })).toEqual(Array(4).fill("BASE"));
});
