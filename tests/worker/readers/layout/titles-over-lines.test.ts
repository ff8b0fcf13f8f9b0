import { describe, expect, it } from "vitest";
import { findGrids } from "../../../../worker/readers/layout/find-grids.js";
import { fillGrid } from "../../../../worker/readers/layout/grid-cells.js";
import type { Rule } from "../../../../worker/readers/layout/word.js";
import { wordsOf } from "./words-of.js";

/** Lines of columns from top to bottom, level lines on top, under the titles and at the end; cells with their spans across. */
function tell(
  xs: readonly number[],
  ys: readonly number[],
  lines: readonly (readonly [top: number, text: string])[],
): string[] {
  const rules: Rule[] = [
    ...xs.map((at): Rule => ({ direction: "upright", at, from: ys[0]!, to: ys.at(-1)! })),
    ...ys.map((at): Rule => ({ direction: "level", at, from: xs[0]!, to: xs.at(-1)! })),
  ];
  const [grid] = findGrids(rules);
  return fillGrid(grid!, wordsOf(lines))
    .cells.filter(({ words }) => words.length > 0)
    .map(({ row, column, columnSpan, words }) => {
      const span = columnSpan > 1 ? `+${columnSpan}` : "";
      return `${row}.${column}${span} ${words.map(({ text }) => text).join(" ")}`;
    });
}

// A character is 5 points wide, so the columns are 50 wide and their middles lie at 25, 75, 125 …
const XS = [0, 50, 100, 150, 200, 250];
const VALUES = "  H4471     0.021     0.45      1.52      612";

describe("column lines through the titles of groups", () => {
  it("are not there for a title in the middle of its columns", () => {
    const cells = tell(
      XS,
      [0, 30, 60],
      [
        [5, "  Heat            Composition(%)            Rm"],
        [18, "            C         Si        Mn       MPa"],
        [40, VALUES],
      ],
    );
    expect(cells).toContain("0.1+3 Composition(%)");
    expect(cells).toContain("1.2 Si");
  });

  it("are not there either where a level line parts the titles", () => {
    const cells = tell(
      XS,
      [0, 15, 30, 60],
      [
        [5, "  Heat            Composition(%)            Rm"],
        [18, "            C         Si        Mn       MPa"],
        [40, VALUES],
      ],
    );
    expect(cells).toContain("0.1+3 Composition(%)");
  });

  it("are not there for a title that touches none, where the titles that stand alone show that they are set on top", () => {
    const cells = tell(
      [0, 50, 100, 150, 200],
      [0, 30, 60],
      [
        [5, "  Heat                 KV,J"],
        [18, "            1          2        3"],
        [40, "  H4471     98       102        95"],
      ],
    );
    expect(cells).toContain("0.1+3 KV,J");
  });

  it("part titles that stand in the middle of their own columns", () => {
    const cells = tell(
      XS,
      [0, 30, 60],
      [
        [5, "  Heat     Carbon   Silicon   Mang.       Rm"],
        [18, "            C         Si        Mn       MPa"],
        [40, VALUES],
      ],
    );
    expect(cells.filter((cell) => cell.includes("+"))).toEqual([]);
  });

  it("part values, wherever they stand", () => {
    const cells = tell(
      XS,
      [0, 30, 90],
      [
        [5, "  Heat       C         Si        Mn        Rm"],
        [40, "  H4471        0.021 0.45       1.52      612"],
        [60, "  H4472     0.024     0.41      1.48      598"],
      ],
    );
    expect(cells.filter((cell) => cell.includes("+"))).toEqual([]);
  });
});

describe("a band of rows without lines between them", () => {
  it("is cut into rows also where the last one is short", () => {
    const cells = tell(
      [0, 50, 100, 150, 200, 250, 300],
      [0, 20, 80],
      [
        [5, "   C %     0.039      Si %      0.41      Mn %      0.81"],
        [25, "   P %     0.016      S %      0.005      Cr %      17.49"],
        [40, "   Ni %    8.76       Mo %      2.00      Cu %      0.47"],
        [55, "   N %     0.055"],
      ],
    );
    expect(cells).toContain("3.1 0.055");
  });
});
