import { expect, test } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";

const TABLE = "Heat | C | Cr\nH4471 | 0.021 | 18.12";
const unread = (line: string) =>
  recognise(drawDocument(`${TABLE}\n\n${line}`), 0).doubts.filter(({ code }) => code === "numbers-unread").length;

test.each([
  "Tensile strength 618 MPa (H4471) and 622 MPa (H4472).",
  "Charpy V at -196 C: 101, 99, 100 J",
  "Die Härte wurde zu 171 HBW bestimmt",
])("a result in a sentence is told: %s", (line) => {
  expect(unread(line)).toBe(1);
});

test.each([
  "Impact energy of each piece at least 27 J",
  "Rm ≥ 485 MPa as ordered",
  "Tested with a 300 J pendulum",
  "Pendulum | 300 J",
  "Delivered under order 4500012, item 10, 12 plates",
])("what was asked for, and other numbers, are no results: %s", (line) => {
  expect(unread(line)).toBe(0);
});

test("a lone result in cells of its own is told", () => {
  const { doubts } = recognise(drawDocument("Heat No. H4471\nCharpy V at -196 C: 101, | 99, | 100 J"), 0);
  expect(doubts.map(({ code }) => code)).toContain("numbers-unread");
});

test("several results in one cell under a title that is not known are told", () => {
  const { doubts } = recognise(drawDocument("Heat | Zone | Charpy\nH4471 | Base | 60/62/64 J"), 0);
  expect(doubts.map(({ code }) => code)).toEqual(["column-unknown"]);
});
