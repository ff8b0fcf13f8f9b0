import { describe, expect, it } from "vitest";
import { mayBe, parseStandardName } from "../../../core/grades/standard-name.js";

describe("the name of a standard", () => {
  it.each([
    ["ASTM A240/A240M", "a240", undefined],
    ["ASTM A240/A240M-07e1", "a240", "07e1"],
    ["a240", "a240", undefined],
    ["A 240", "a240", undefined],
    ["A240M", "a240", undefined],
    ["A240-18", "a240", "18"],
    ["A240 2018", "a240", "2018"],
    ["ASTM A240:2018", "a240", "2018"],
    ["ASTM A240‐18a", "a240", "18a"],
    ["A 240/A 240M – 04", "a240", "04"],
    ["ASTM B209", "b209", undefined],
    ["EN 10028-7", "en10028-7", undefined],
    ["EN 10028-7:2016", "en10028-7", "2016"],
    ["EN10028-7", "en10028-7", undefined],
    ["DIN EN 10088-2:2014-12", "en10088-2", "2014"],
    ["BS EN 10025–2 : 2004", "en10025-2", "2004"],
    ["EN 10028‑7", "en10028-7", undefined],
    ["EN 485-2", "en485-2", undefined],
    ["EN ISO 14343-A", "iso14343-a", undefined],
    ["ISO 14343-A:2017", "iso14343-a", "2017"],
    ["AWS A5.9/A5.9M", "aws-a5.9", undefined],
    ["AWS A5.4", "aws-a5.4", undefined],
    ["A5.9:2012", "aws-a5.9", "2012"],
    ["API 5L", "api5l", undefined],
    ["API Spec 5L", "api5l", undefined],
    ["EN ISO 3183:2019", "api5l", "2019"],
    ["ISO 3183", "api5l", undefined],
    ["API-5L-2018", "api5l", "2018"],
    ["AWS A5.14", "aws-a5.14", undefined],
    ["AWS A5.9/A5.9M:2022", "aws-a5.9", "2022"],
    ["AWS A 5.9", "aws-a5.9", undefined],
    ["AWS/ANSI A5.9", "aws-a5.9", undefined],
    ["EN ISO 14343 - B", "iso14343-b", undefined],
    ["EN/ISO 14343-A", "iso14343-a", undefined],
    ["EN 10025-2:2019+A1", "en10025-2", "2019"],
    ["NF EN 10028-7", "en10028-7", undefined],
    ["DIN EN ISO 14343-A", "iso14343-a", undefined],
    ["EN 10088", "en10088", undefined],
  ])("%s is %s, edition %s", (text, key, edition) => {
    expect(parseStandardName(text)).toEqual(edition === undefined ? { key } : { key, edition });
  });

  it.each([
    ["SA-240", "a240"],
    ["SA240", "a240"],
    ["ASME SA-240/SA-240M", "a240"],
    ["SFA-5.9", "aws-a5.9"],
  ])("%s is %s as ASME adopts it", (text, key) => {
    expect(parseStandardName(text)).toEqual({ key, adoptedBy: "ASME" });
  });

  it.each(["SA-240/A240", "ASTM A240/SA240", "ASTM A240 / ASME SA-240"])("%s is the ASTM text too", (text) => {
    expect(parseStandardName(text)).toEqual({ key: "a240" });
  });

  it.each(["", "304L", "A312/A403", "steel", "EN", "1.4307", "A240 304L", "A ".repeat(61)])("%j is none", (text) => {
    expect(parseStandardName(text)).toBeUndefined();
  });
});

describe("a standard cited without its part", () => {
  it.each([
    ["en10088", "en10088-2", true],
    ["iso14343", "iso14343-a", true],
    ["en10088-2", "en10088-2", true],
    ["en10088-2", "en10088-4", false],
    ["en1008", "en10088-2", false],
    ["a240", "a240-2", false],
    ["en10088-2", "en10088-2-1", false],
  ])("%s may be %s: %s", (cited, held, is) => expect(mayBe(cited, held)).toBe(is));
});
