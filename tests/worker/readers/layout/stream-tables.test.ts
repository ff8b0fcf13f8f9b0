import { describe, expect, it } from "vitest";
import { buildStreamTables } from "../../../../worker/readers/layout/stream-tables.js";
import type { Word } from "../../../../worker/readers/layout/word.js";
import { wordsOf } from "./words-of.js";

/** Each cell as "row.column text", with its span down where it has one. */
function tell(lines: readonly (readonly [top: number, text: string])[]): string[] {
  return buildStreamTables(wordsOf(lines)).flatMap(({ cells }) =>
    cells.map(({ row, column, rowSpan, words }) => {
      const span = rowSpan > 1 ? ` v${rowSpan}` : "";
      return `${row}.${column}${span} ${words.map(({ text }) => text).join(" ")}`;
    }),
  );
}

describe("labels in the middle of their rows", () => {
  it("are given all of them where the middles come out even", () => {
    const cells = tell([
      [0, "Heat      Piece   KV J"],
      [12, "          1       51"],
      [24, "          2       127"],
      [30, "H4471"],
      [36, "          3       121"],
      [48, "          4       100"],
      [60, "          1       61"],
      [72, "H4472     2       104"],
      [84, "          3       63"],
    ]);
    expect(cells.filter((cell) => cell.includes("H44"))).toEqual(["1.0 v4 H4471", "5.0 v3 H4472"]);
  });

  it("stay where they stand where they don't", () => {
    const cells = tell([
      [0, "Heat      Piece   KV J"],
      [12, "          1       51"],
      [24, "H4471     2       127"],
      [36, "          3       121"],
      [48, "          4       100"],
    ]);
    expect(cells).toContain("2.0 H4471");
  });

  it("on their first row are no such labels", () => {
    const cells = tell([
      [0, "Heat      Piece   KV J"],
      [12, "H4471     1       51"],
      [24, "          2       127"],
      [36, "H4472     1       121"],
      [48, "          2       100"],
    ]);
    expect(cells.filter((cell) => cell.includes("H44"))).toEqual(["1.0 H4471", "3.0 H4472"]);
  });
});

describe("titles whose words stand over nothing", () => {
  const values: [number, string][] = [
    [12, "H4471       47                     120"],
    [24, "H4472       52                      98"],
    [36, "H4473       49                     101"],
  ];

  it("stay whole: a column is only where something stands under it", () => {
    const cells = tell([[0, "Heat    Elongation 50 mm            KV J"], ...values]);
    expect(cells.filter((cell) => cell.startsWith("0."))).toEqual(["0.0 Heat", "0.1 Elongation 50 mm", "0.2 KV J"]);
  });

  it("are cut where each has its own values", () => {
    const wide = values.map(([top, text]): [number, string] => [top, `${text.slice(0, 19)}61${text.slice(21)}`]);
    const cells = tell([[0, "Heat    Elongation 50 mm            KV J"], ...wide]);
    expect(cells.filter((cell) => cell.startsWith("0.1"))).toEqual(["0.1 Elongation"]);
  });
});

describe("rows whose cells are broken into lines", () => {
  it("are one row each", () => {
    const cells = tell([
      [0, "Heat     Place    KV J"],
      [20, "292      Parent"],
      [25, "                  59"],
      [30, "343      metal"],
      [50, "292      Weld"],
      [55, "                  55"],
      [60, "343      centre"],
    ]);
    expect(cells.slice(3)).toEqual([
      "1.0 292 343",
      "1.1 Parent metal",
      "1.2 59",
      "2.0 292 343",
      "2.1 Weld centre",
      "2.2 55",
    ]);
  });

  it("are not made of two rows of values", () => {
    const cells = tell([
      [0, "Heat      C %      Mn %"],
      [12, "H4471     0.021    1.52"],
      [20, "H4472     0.034    1.60"],
    ]);
    expect(cells).toContain("1.1 0.021");
    expect(cells).toContain("2.1 0.034");
  });
});

describe("rows that are too tight to be cut by themselves", () => {
  /** Heat | KV J | Mean J, cells 5 apart and words 2 apart in type 9 high. */
  const titles = [
    ["Heat", 0, 20],
    ["KV", 36, 48],
    ["J", 50, 53],
    ["Mean", 58, 78],
    ["J", 80, 83],
  ] as const;
  const place = (words: readonly (readonly [text: string, left: number, right: number])[], top: number) =>
    words.map(([text, left, right]): Word => {
      return { text, left, right, top, bottom: top + 9, box: [left, top, right - left, 9], confidence: 1 };
    });
  const values = (heat: string, top: number, mean: number) =>
    place(
      [
        [heat, 0, 25],
        ["51", 38, 48],
        ["80", mean, mean + 10],
      ],
      top,
    );
  const titlesOver = (mean: number) =>
    buildStreamTables([...place(titles, 0), ...values("H4471", 12, mean), ...values("H4472", 24, mean)])
      .flatMap(({ cells }) => cells)
      .filter(({ words }) => words[0]!.top === 0)
      .map(({ words }) => words.map(({ text }) => text).join(" "));

  it("are cut where the rows beside them part", () => {
    expect(titlesOver(70)).toEqual(["Heat", "KV J", "Mean J"]);
  });

  it("are left alone where no gap of theirs lies between the values", () => {
    expect(titlesOver(200)).not.toContain("KV");
  });
});

describe("narrow gaps that go on line after line", () => {
  /** Words 7 apart in type 9 high: nearer than cells mostly stand, further than words of a phrase. */
  const line = (top: number, texts: readonly string[]): Word[] => {
    const lefts = [0, 37, 84, 121];
    return texts.map((text, index) => {
      const [left, right] = [lefts[index]!, lefts[index]! + (index === 0 ? 30 : 12)];
      return { text, left, right, top, bottom: top + 9, box: [left, top, right - left, 9], confidence: 1 };
    });
  };
  const textsOf = (lines: readonly (readonly string[])[]) =>
    buildStreamTables(lines.flatMap((texts, index) => line(12 * index, texts)))
      .flatMap(({ cells }) => cells)
      .map(({ words }) => words.map(({ text }) => text).join(" "));

  it("part cells", () => {
    const texts = textsOf([
      ["Heat", "Property", "Value", "Unit"],
      ["N67584", "C", "0.037", "%"],
      ["N67584", "Si", "0.41", "%"],
    ]);
    expect(texts.slice(4, 6)).toEqual(["N67584", "C"]);
  });

  it("part nothing where only one line has them", () => {
    expect(textsOf([["Weld", "metal", "as"]])).toContain("Weld metal");
  });
});

describe("a table under another one", () => {
  /** Cells at their left edges, with spaces of 2.7 in type 9 high. */
  const line = (top: number, cells: readonly (readonly [left: number, text: string])[]): Word[] =>
    cells.flatMap(([left, text]) => {
      let at = left;
      return text.split(" ").map((word) => {
        const right = at + 4.5 * word.length;
        const box = [at, top, right - at, 9] as const;
        const placed: Word = { text: word, left: at, right, top, bottom: top + 9, box, confidence: 1 };
        at = right + 2.7;
        return placed;
      });
    });
  const chemistry = [
    ...line(0, [
      [0, "C %"],
      [50, "Si %"],
      [100, "Mn %"],
      [150, "P %"],
    ]),
    ...line(12, [
      [0, "0.030"],
      [50, "0.37"],
      [100, "1.86"],
      [150, "0.017"],
    ]),
  ];

  it("begins with its titles, also where these hold numbers", () => {
    const tensile = [
      ...line(24, [
        [0, "Yield 0.2 % MPa"],
        [90, "Tensile MPa"],
        [160, "Elongation 50 mm %"],
      ]),
      ...line(36, [
        [0, "285"],
        [90, "612"],
        [160, "54"],
      ]),
    ];
    expect(buildStreamTables([...chemistry, ...tensile])).toHaveLength(2);
  });

  it("begins with its titles, also where these are two", () => {
    const tensile = [
      ...line(24, [
        [0, "Tensile strength MPa"],
        [120, "Elongation %"],
      ]),
      ...line(36, [
        [0, "612"],
        [120, "54"],
      ]),
    ];
    expect(buildStreamTables([...chemistry, ...tensile])).toHaveLength(2);
  });
});

describe("a title over several columns", () => {
  it("is not cut at a number in it", () => {
    const place = (top: number, texts: readonly (readonly [left: number, right: number, text: string])[]) =>
      texts.map(([left, right, text]): Word => {
        return { text, left, right, top, bottom: top + 9, box: [left, top, right - left, 9], confidence: 1 };
      });
    const words = [
      ...place(0, [
        [0, 20, "Heat"],
        [52, 64, "KV"],
        [67, 84, "-196"],
        [87, 95, "°C"],
        [98, 106, "[J]"],
      ]),
      ...place(12, [
        [50, 60, "1"],
        [75, 85, "2"],
        [98, 108, "3"],
      ]),
      ...place(24, [
        [0, 25, "H4471"],
        [50, 60, "98"],
        [75, 85, "102"],
        [98, 108, "95"],
      ]),
    ];
    const texts = buildStreamTables(words).flatMap(({ cells }) =>
      cells.map((cell) => cell.words.map(({ text }) => text).join(" ")),
    );
    expect(texts).toContain("KV -196 °C [J]");
  });
});
