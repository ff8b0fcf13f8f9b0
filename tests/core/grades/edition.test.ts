import { describe, expect, it } from "vitest";
import { editionCovers, editionYear, newestFirst } from "../../../core/grades/edition.js";

describe("the year of an edition", () => {
  it.each([
    ["2016", 2016],
    ["07e1", 2007],
    ["18a", 2018],
    ["20aE1", 2020],
    ["2018-05", 2018],
    ["edition 2004", 2004],
    [" 98 ", 1998],
    ["50", 1950],
    ["49", 2049],
    ["12345", undefined],
    ["7", undefined],
    ["undated", undefined],
  ])("%s: %s", (text, year) => expect(editionYear(text)).toBe(year));

  it.each([
    [2003, false],
    [2004, true],
    [2007, true],
    [2008, false],
  ])("%i in 2004 to 2007: %s", (year, covered) => {
    expect(editionCovers({ name: "04", from: 2004, to: 2007 }, year)).toBe(covered);
  });

  it("an edition without years holds for any", () => expect(editionCovers({ name: "undated" }, 1970)).toBe(true));

  it("puts the newest first, one without a year after it and a superseded one last", () => {
    const editions = [
      { name: "old", superseded: true as const, from: 2024 },
      { name: "undated" },
      { name: "2016", from: 2016 },
      { name: "2020", from: 2020 },
    ];
    expect([...editions].sort(newestFirst).map(({ name }) => name)).toEqual(["2020", "2016", "undated", "old"]);
  });
});
