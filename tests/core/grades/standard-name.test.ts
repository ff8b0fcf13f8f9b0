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
    ...(
      "DIN,BS,NF,UNI,ONORM,ÖNORM,SS,SFS,NS,DS,PN,CSN,ČSN,NEN,NBN,UNE,EVS,LST,LVS,STN,SIST,SN,TS".split(",") as string[]
    ).flatMap((body): [string, string, undefined][] => [
      [`${body} EN 10028-7`, "en10028-7", undefined],
      [`${body}-EN10028-7`, "en10028-7", undefined],
      [`${body} ISO 14343-A`, "iso14343-a", undefined],
    ]),
    ["DS/EN 10028-7", "en10028-7", undefined],
    ["EN-10028-7", "en10028-7", undefined],
    ["EN 10028 7", "en10028-7", undefined],
    ["EN 10028 - 7", "en10028-7", undefined],
    ["EN 10028-72", "en10028-72", undefined],
    ["EN 10028-7-2016", "en10028-7", "2016"],
    ["EN 10028-7:2016+A1:2019", "en10028-7", "2016"],
    ["EN 10028-7 : 2016 + A1", "en10028-7", "2016"],
    ["EN 12", "en12", undefined],
    ["ISO14343-B", "iso14343-b", undefined],
    ["EN ISO-14343-A", "iso14343-a", undefined],
    ["ASTM A 240 / A 240 M - 20a", "a240", "20a"],
    ["ASME/ASTM A240", "a240", undefined],
    ["ANSI A240", "a240", undefined],
    ["ASTM-A240", "a240", undefined],
    ["A 240/M", "a240", undefined],
    ["ASTM A240/ASTM A240M", "a240", undefined],
    ["A240/240M", "a240", undefined],
    ["A240/A240M/A240", "a240", undefined],
    ["A240-2018", "a240", "2018"],
    ["A240-1998", "a240", "1998"],
    ["A240-18ae1", "a240", "18ae1"],
    ["A240-18e1", "a240", "18e1"],
    ["A240/A240M 2018", "a240", "2018"],
    ["A5.9", "aws-a5.9", undefined],
    ["AWS A5.9M", "aws-a5.9", undefined],
    ["AWS-A5.9", "aws-a5.9", undefined],
    ["ASME A5.9", "aws-a5.9", undefined],
    ["A-5.9", "aws-a5.9", undefined],
    ["AWS A5.9 / A5.9M", "aws-a5.9", undefined],
    ["AWS A5.9-12", "aws-a5.9", "12"],
    ["AWS A5.9 : 2012", "aws-a5.9", "2012"],
    ["API5L", "api5l", undefined],
    ["API 5L, 2018", "api5l", "2018"],
    ["API 5L:18", "api5l", "18"],
    ["ISO3183", "api5l", undefined],
    ["ISO-3183", "api5l", undefined],
    ["iso 3183-2012", "api5l", "2012"],
    ["EN ISO 3183 : 2012", "api5l", "2012"],
  ])("%s is %s, edition %s", (text, key, edition) => {
    expect(parseStandardName(text)).toEqual(edition === undefined ? { key } : { key, edition });
  });

  it.each([
    ["SA-240", "a240"],
    ["SA240", "a240"],
    ["ASME SA-240/SA-240M", "a240"],
    ["SFA-5.9", "aws-a5.9"],
    ["SB-209", "b209"],
    ["ASME SB209", "b209"],
    ["ASME SFA-5.9", "aws-a5.9"],
    ["SFA 5.4/SFA-5.4M", "aws-a5.4"],
  ])("%s is %s as ASME adopts it", (text, key) => {
    expect(parseStandardName(text)).toEqual({ key, adoptedBy: "ASME" });
  });

  it.each(["SA-240/A240", "ASTM A240/SA240", "ASTM A240 / ASME SA-240"])("%s is the ASTM text too", (text) => {
    expect(parseStandardName(text)).toEqual({ key: "a240" });
  });

  it("takes the edition of an ASME text too", () => {
    expect(parseStandardName("SFA-5.9:2017")).toEqual({ key: "aws-a5.9", edition: "2017", adoptedBy: "ASME" });
    expect(parseStandardName("SA-240:2021")).toEqual({ key: "a240", edition: "2021", adoptedBy: "ASME" });
  });

  it.each([
    ["ASTM A240 ed. 2018", { key: "a240", edition: "2018" }],
    ["A240 2018 Ed.", { key: "a240", edition: "2018" }],
    ["A240/A240M, 2018", { key: "a240", edition: "2018" }],
    ["ASME SA-240 (2019)", { key: "a240", edition: "2019", adoptedBy: "ASME" }],
    ["DIN EN 10028-7, Ausgabe 2016-10", { key: "en10028-7", edition: "2016" }],
    ["EN 10028-7 (2016)", { key: "en10028-7", edition: "2016" }],
    ["AWS A5.9 (2017)", { key: "aws-a5.9", edition: "2017" }],
  ])("%s has its edition written out", (text, name) => {
    expect(parseStandardName(text)).toEqual(name);
  });

  it.each(["ASTM A240-18 ed. 2019", "ASTM A240 ed. 2018 304L", "ASTM A240, Section 7", "A240 (304L)"])(
    "%s is more than a standard with one edition",
    (text) => {
      expect(parseStandardName(text)).toBeUndefined();
    },
  );

  it("reads a name of a hundred and twenty letters and no longer one", () => {
    const name = (letters: number) => `EN 10028-7:2016+A1${".".repeat(letters - 18)}`;
    expect(parseStandardName(name(120))?.key).toBe("en10028-7");
    expect(parseStandardName(name(121))).toBeUndefined();
  });

  it.each([
    "",
    "304L",
    "A312/A403",
    "steel",
    "EN",
    "1.4307",
    "A240 304L",
    "A ".repeat(61),
    "DIN 17440",
    "SDIN EN 10028-7",
    "EN 1",
    "EN 123456",
    "EN 10028-123",
    "EN 10028-7:16",
    "EN 10028-7x",
    "X EN 10028-7",
    "A240 18",
    "A240/A241",
    "A240/A2401",
    "A24000",
    "A240-18x",
    "XA240",
    "AWS A5.123",
    "AWS A5.9 ER308L",
    "X A5.9",
    "API 5CT",
    "API-5L 18",
    "X API 5L",
  ])("%j is none", (text) => {
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
