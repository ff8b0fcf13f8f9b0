import { expect, test } from "vitest";
import { formatMeasure } from "../../../core/quantity/measure.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";

const widthOf = (title: string, said: string) => {
  const { heats, doubts } = recognise(drawDocument(`Heat | ${title} | KV J\nH4471 | ${said} | 60`), 0);
  const { specimenWidth, confidence } = heats[0]!.readings[0]!;
  return { width: specimenWidth && formatMeasure(specimenWidth), confidence, codes: doubts.map(({ code }) => code) };
};

// Widths of sub-size pieces: ASTM A370 and E23, recalled, not looked up.
test.each([
  ["10x7.5", "7.5 mm"],
  ["1/2", "5 mm"],
  ["½ size", "5 mm"],
  ["half-size", "5 mm"],
  ["3/4", "7.5 mm"],
  ["three-quarter size", "7.5 mm"],
  ["2/3 sub-size", "6.7 mm"],
  ["1/3", "3.3 mm"],
  ["1/4", "2.5 mm"],
  ["full size", "10 mm"],
])("a specimen size of %s is %s wide", (said, width) => {
  expect(widthOf("Specimen size", said)).toEqual({ width, confidence: 1, codes: [] });
});

test.each([
  ["Specimen size", "sub-size"],
  ["Specimen size", "reduced"],
  ["Size", "1/2"],
  ["Size", "sub-size"],
])("under %s, %s leaves the width open and the value doubted", (title, said) => {
  const { width, confidence, codes } = widthOf(title, said);
  expect(width).toBeUndefined();
  expect(confidence).toBeLessThan(0.9);
  expect(codes).toContain("specimen-unknown");
});

test("a plate's size beside impact results says nothing of the pieces", () => {
  expect(widthOf("Size", "12 x 2000 x 6000")).toEqual({ width: undefined, confidence: 1, codes: [] });
});
