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
