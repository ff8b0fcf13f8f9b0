import { expect, test } from "vitest";
import { distrustShifted } from "../../../core/recogniser/distrust-shifted.js";
import type { ResultRow } from "../../../core/recogniser/result-row.js";
import { reading } from "../../support/heat.js";

const VALUES = { C: "0.021", P: "0.031", S: "0.002" };

function row(at: number, column: number, names: readonly (keyof typeof VALUES)[]): ResultRow {
  const first = { row: at, column, text: "", place: { line: at + 1, column: column + 1 }, confidence: 1 };
  return { fields: [], first, readings: names.map((name) => reading(name, VALUES[name])) };
}

const doubted = (rows: readonly ResultRow[]) =>
  distrustShifted(rows).map(({ readings }) => readings.filter(({ confidence }) => confidence < 0.85).length);

test("a column that lacks its first value and has one alone below is doubted in every row, and no other column", () => {
  const rows = [row(1, 0, ["C", "S"]), row(2, 0, ["C", "P", "S"]), row(3, 0, ["C", "P", "S"]), row(4, 2, ["P"])];
  expect(doubted(rows)).toEqual([0, 1, 1, 1]);
});

test.each<[string, ResultRow[]]>([
  [
    "the first value is there: a second test of the last heat",
    [row(1, 0, ["C", "P"]), row(2, 0, ["C", "P"]), row(3, 2, ["P"])],
  ],
  ["a value is missing further down", [row(1, 0, ["C"]), row(2, 0, ["C"]), row(3, 0, ["C", "P"]), row(4, 2, ["P"])]],
  ["the last row is named", [row(1, 0, ["C"]), row(2, 0, ["C", "P"]), row(3, 0, ["P"])]],
  ["two rows say too little", [row(1, 0, ["C"]), row(2, 2, ["P"])]],
  ["no rows", []],
])("not doubted: %s", (_, rows) => {
  expect(doubted(rows).every((count) => count === 0)).toBe(true);
});
