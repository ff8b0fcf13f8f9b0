import { describe, expect, test } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

describe("elements down and heats across, right under the lines of the form, limits beside", () => {
  const read = (...analyses: string[]) =>
    recognise(
      drawDocument(
        [
          "Material | ASTM A240 304L | | Product | Plate 12 mm |",
          "Element | Unit | H4471 | H4471 | H4472 | max",
          ...analyses,
          "C  | %   | 0.021 | 0.034 | 0.022 | 0.030",
          "Cr | %   | 18.12 | 18.2  | 18.3  | 19.5",
          "N  | ppm | 710   | 700   | 800   | 1000",
        ].join("\n"),
      ),
      0,
    );

  test("each column is of the heat that stands over it", () => {
    expect(tell(read())).toEqual([
      "H4471: C 0.021 %",
      "H4471: Cr 18.12 %",
      "H4471: N 710 ppm",
      "H4471: C 0.034 %",
      "H4471: Cr 18.2 %",
      "H4471: N 700 ppm",
      "H4472: C 0.022 %",
      "H4472: Cr 18.3 %",
      "H4472: N 800 ppm",
    ]);
  });

  test("and of the analysis that stands on the second line", () => {
    expect(tell(read(" | | Ladle | Product analysis | Ladle | ")).filter((line) => line.includes(" C "))).toEqual([
      "H4471: C 0.021 % heat",
      "H4471: C 0.034 % product",
      "H4472: C 0.022 % heat",
    ]);
  });

  test("where that line says Heat, no value becomes the name of a heat", () => {
    const { heats, doubts } = read(" | | Heat | Product | Heat | ");
    expect(heats.map(({ heat }) => heat.value)).toEqual(["heat not stated"]);
    expect(doubts.map(({ code }) => code)).toContain("heat-not-stated");
  });
});

test("a row named by a standard and max or min holds limits", () => {
  const { heats, notes } = recognise(
    drawDocument(`
Heat     | C     | Cr    | Ni
A240 max | 0.030 | 19.5  | 12.0
H4471    | 0.021 | 18.12 | 8.09
Min A240 |       | 17.5  | 8.0`),
    0,
  );
  expect(heats.map(({ heat }) => heat.value)).toEqual(["H4471"]);
  expect(notes).toHaveLength(2);
});

test("a marked heat keeps its values, and is doubted with what the note says", () => {
  const { heats, doubts } = recognise(
    drawDocument(`
Heat    | C     | Cr
H4471*  | 0.021 | 18.12
H4472   | 0.022 | 18.20
* from stock, retested`),
    0,
  );
  expect(heats.map(({ heat }) => [heat.value, heat.confidence])).toEqual([
    ["H4471", 0.5],
    ["H4472", 1],
  ]);
  expect(doubts).toMatchObject([
    { code: "heat-marked", heat: "H4471", message: expect.stringContaining("from stock, retested") },
  ]);
});

test("Cast over a column of names heads heats, and beside a row of values says which analysis it is", () => {
  const over = drawDocument("Cast | C | Cr\nH4471 | 0.021 | 18.12\nH4472 | 0.022 | 18.20");
  expect(tell(recognise(over, 0)).filter((line) => line.includes(" C "))).toEqual([
    "H4471: C 0.021 %",
    "H4472: C 0.022 %",
  ]);
  const beside = drawDocument("Heat | H4471\n\n | C | Cr\nCast | 0.021 | 18.12\nProduct analysis | 0.022 | 18.20");
  expect(tell(recognise(beside, 0)).filter((line) => line.includes(" C "))).toEqual([
    "H4471: C 0.021 % heat",
    "H4471: C 0.022 % product",
  ]);
});
