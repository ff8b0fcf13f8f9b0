import { expect, it } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";

const HEADING = "Charpy ISO 148-1, KV2 at -196 °C, values in J\n";

/** The pieces of each test, in the order in which they were met. */
function setsOf(drawing: string): string[] {
  const sets = new Map<string, string[]>();
  for (const { readings } of recognise(drawDocument(HEADING + drawing), 0).heats) {
    for (const { test, printed } of readings) sets.set(test!, [...(sets.get(test!) ?? []), printed]);
  }
  return [...sets.values()].map((printed) => printed.join(" "));
}

it.each([
  [
    "rows of one name are sets of their own",
    "Heat | Zone | Specimen | 1 | 2 | 3 | Mean\nM1 | HAZ FL+1 | 10x10x55 | 71 | 68 | 80 | 73\nM1 | HAZ FL+5 | 10x10x55 | 31 | 38 | 90 | 53",
    ["71 68 80 73", "31 38 90 53"],
  ],
  [
    "pieces of one name and two places are two sets",
    "Heat | Zone | Specimen | KV\nM1 | HAZ FL+1 | A1 | 71\nM1 | HAZ FL+1 | A1 | 68\nM1 | HAZ FL+5 | A1 | 31\nM1 | HAZ FL+5 | A1 | 38",
    ["71 68", "31 38"],
  ],
  [
    "pieces of one place whose names count on are one set",
    "Heat | Zone | Specimen | KV\nM1 | weld | W1 | 71\nM1 | weld | W2 | 68\nM1 | weld | W3 | 80",
    ["71 68 80"],
  ],
])("%s", (_name, drawing, sets) => {
  expect(setsOf(drawing)).toEqual(sets);
});
