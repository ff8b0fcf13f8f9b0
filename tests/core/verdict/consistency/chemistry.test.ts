import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../core/certificate/certificate.js";
import { chemistryContradictions } from "../../../../core/verdict/consistency/chemistry.js";
import { reading } from "../../../support/heat.js";
import { numbered, sayings } from "./saying.js";

const said = (readings: readonly Reading[]) => sayings(chemistryContradictions(numbered(readings)));

describe("two heat analyses of one heat", () => {
  it.each<[string, Reading[], number]>([
    ["the same value", [reading("Mn", "1.62"), reading("Mn", "1.62")], 0],
    ["a coarser print of it", [reading("Mn", "1.62"), reading("Mn", "1.6")], 0],
    ["a coarser print, just rounding the other way", [reading("Mn", "1.66"), reading("Mn", "1.6")], 1],
    ["half a place off, to even", [reading("Mn", "1.65"), reading("Mn", "1.6")], 0],
    ["one unit of the last place off", [reading("Mn", "1.62"), reading("Mn", "1.63")], 1],
    ["the same in ppm", [reading("N", "0.062"), reading("N", "620 ppm")], 0],
    ["another in ppm", [reading("N", "0.062"), reading("N", "640 ppm")], 1],
    ["a bound", [reading("S", "0.002"), reading("S", "<0.001")], 0],
    ["a unit that is no share of mass", [reading("Mn", "1.62"), reading("Mn", "1.71 MPa")], 0],
    ["a product analysis beside it", [reading("Mn", "1.62"), reading("Mn", "1.71", { analysis: "product" })], 0],
    ["weld metal beside it", [reading("Mn", "1.62"), reading("Mn", "1.71", { zone: "weld" })], 0],
  ])("%s", (_, readings, count) => {
    expect(said(readings)).toHaveLength(count);
  });

  it("names every pair in one finding", () => {
    const twice = [reading("Mn", "1.62"), reading("Cr", "18.2"), reading("Mn", "1.71"), reading("Cr", "18.4")];
    expect(said(twice)).toEqual(["the heat has two analyses: Mn 1.62 % and 1.71 %, Cr 18.2 % and 18.4 %"]);
  });
});

describe("elements above the whole", () => {
  const withIron = (Fe: string) => [reading("Cr", "18.2"), reading("Ni", "8.1"), reading("Fe", Fe)];
  it.each([
    ["73.69", 0],
    ["73.70", 0],
    ["73.71", 1],
  ])("Fe %s on 26.3 of others: %i", (Fe, count) => {
    expect(said(withIron(Fe))).toHaveLength(count);
  });

  it.each<[string, Reading[], string[]]>([
    [
      "what is of two documents",
      [reading("Fe", "70"), reading("Cr", "31", { evidence: { document: 1, line: 3, column: 2 } })],
      [],
    ],
    ["what is of two analyses", [reading("Fe", "70"), reading("Cr", "31", { analysis: "product" })], []],
    ["what is of two determinations", [reading("Fe", "70", { test: "1" }), reading("Cr", "31", { test: "2" })], []],
    [
      "what is of one determination",
      [reading("Fe", "70", { test: "1" }), reading("Cr", "31", { test: "1" })],
      ["the elements add up to 101 %"],
    ],
    [
      "what is not hidden by a value below zero",
      [reading("Fe", "70"), reading("Cr", "31"), reading("Ni", "-2", { analysis: "product" })],
      ["the elements add up to 101 %"],
    ],
    ["what is of weld metal", [reading("Fe", "70"), reading("Cr", "31", { zone: "weld" })], []],
    [
      "what is no share of mass",
      [reading("Fe", "70"), reading("Cr", "31"), reading("Ni", "2 MPa")],
      ["the elements add up to 101 %"],
    ],
    [
      "the lower of two prints",
      [reading("Fe", "70"), reading("Cr", "31"), reading("Cr", "29")],
      ["the heat has two analyses: Cr 31 % and 29 %"],
    ],
    [
      "the lower of two prints, the other way round",
      [reading("Fe", "70"), reading("Cr", "29"), reading("Cr", "31")],
      ["the heat has two analyses: Cr 29 % and 31 %"],
    ],
    [
      "the lower in one unit",
      [reading("Fe", "100"), reading("N", "0.062"), reading("N", "620 ppm")],
      ["the elements add up to 100.062 %"],
    ],
  ])("add up only what belongs together: %s", (_, readings, texts) => {
    expect(said(readings)).toEqual(texts);
  });

  it("counts an element once, and bounds not at all", () => {
    expect(said([...withIron("73.7"), reading("Cr", "18.2"), reading("S", "<0.5")])).toEqual([]);
  });
});
