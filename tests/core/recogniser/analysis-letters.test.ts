import { describe, expect, test } from "vitest";
import { CONFIDENCE_THRESHOLD } from "../../../core/certificate/certificate.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

const read = (legend: string, letters: readonly [string, string] = ["S", "St"]) =>
  recognise(
    drawDocument(
      [
        "Heat | Art | C % | Cr %",
        `H4471 | ${letters[0]} | 0.021 | 18.1`,
        ` | ${letters[1]} | 0.034 | 18.2`,
        "",
        legend,
      ].join("\n"),
    ),
    0,
  );
const sure = (...input: Parameters<typeof read>) =>
  read(...input).heats.flatMap(({ readings }) =>
    readings.filter(({ confidence }) => confidence >= CONFIDENCE_THRESHOLD),
  );

describe("letters that tell the rows of one heat apart", () => {
  test("mean what the paper says they mean", () => {
    expect(tell(read("S = Schmelzanalyse, St = Stückanalyse")).filter((line) => line.includes(" C "))).toEqual([
      "H4471: C 0.021 % heat",
      "H4471: C 0.034 % product",
    ]);
  });

  test.each(["", "S = Schmelze, St = Stahl", "S: ladle analysis, S: product analysis"])(
    "and are not relied on where it says %j",
    (legend) => {
      expect(sure(legend)).toEqual([]);
      expect(read(legend).doubts.map(({ code }) => code)).toContain("letters-unexplained");
    },
  );

  test("names of pieces are no such letters", () => {
    expect(sure("", ["P101", "P102"])).toHaveLength(4);
  });
});
