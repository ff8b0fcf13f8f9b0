import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseGradeText } from "../../../core/grades/parse-grade-text.js";

/** "standard|grade" for each entry. */
function parsed(text: string): string[] {
  return parseGradeText(text).map(({ standard, grade }) => (standard === undefined ? grade : `${standard}|${grade}`));
}

describe("a grade as people write it", () => {
  it.each([
    ["304L", ["304L"]],
    ["A240 304L", ["A240|304L"]],
    ["A240 304/304L", ["A240|304", "A240|304L"]],
    ["ASTM A240/A240M-18 Type 304 / 304L", ["ASTM A240/A240M-18|TYPE 304", "ASTM A240/A240M-18|304L"]],
    ["A240 304/L", ["A240|304", "A240|304L"]],
    ["ASTM A240 304(L)", ["ASTM A240|304", "ASTM A240|304L"]],
    ["SA-240 304L", ["SA-240|304L"]],
    ["SA-240/A240 304L", ["SA-240/A240|304L"]],
    ["ASTM A240 / ASME SA-240 304L", ["ASTM A240 / ASME SA-240|304L"]],
    ["EN 10028-7 1.4307", ["EN 10028-7|1.4307"]],
    ["EN 10028-7:2016 X2CrNi18-9", ["EN 10028-7:2016|X2CRNI18-9"]],
    ["1.4307 to EN 10028-7", ["EN 10028-7|1.4307"]],
    ["1.4307 / X2CrNi18-9 acc. to DIN EN 10088-2", ["DIN EN 10088-2|1.4307", "DIN EN 10088-2|X2CRNI18-9"]],
    ["A240–304L", ["A240|304L"]],
    ["ASTM A240 – Type 304 L", ["ASTM A240|TYPE 304 L"]],
    ["A182 F304L", ["A182|F304L"]],
    ["A182-F304/F304L", ["A182|F304", "A182|F304L"]],
    ["ASTM A403 WP304L", ["ASTM A403|WP304L"]],
    ["A312 TP304/TP304L seamless pipe", ["A312|TP304", "A312|TP304L"]],
    ["AWS A5.9 ER308L", ["AWS A5.9|ER308L"]],
    ["SFA-5.9 ER308L", ["SFA-5.9|ER308L"]],
    ["EN ISO 14343-A 19 9 L", ["EN ISO 14343-A|19 9 L"]],
    ["A193 B7", ["A193|B7"]],
    ["A516 Gr.70", ["A516|GR.70"]],
    ["SA-516-70", ["SA-516|70"]],
    ["A333-6", ["A333|6"]],
    ["A106-B", ["A106|B"]],
    ["A36", ["A36|a36"]],
    ["API 5L X52N PSL2", ["API 5L|X52N PSL2"]],
    ["EN 10025-2 S355J2+N", ["EN 10025-2|S355J2+N"]],
    ["EN AW-5083 H111", ["EN AW-5083 H111"]],
    [
      "ASTM A240-18 / ASME SA240 Type 304/304L, EN 10028-7 1.4307",
      ["ASTM A240-18|TYPE 304", "ASME SA240|TYPE 304", "ASTM A240-18|304L", "ASME SA240|304L", "EN 10028-7|1.4307"],
    ],
    ["304L / 1.4307 to A240 and EN 10088-2", ["A240|304L", "EN 10088-2|1.4307"]],
    ["304L in acc. with A240", ["A240|304L"]],
    ["304L according to A240", ["A240|304L"]],
    ["304L in accordance with A240", ["A240|304L"]],
    ["304L as per A240", ["A240|304L"]],
    ["1.4307 gemäss EN 10028-7", ["EN 10028-7|1.4307"]],
    ["1.4307 gemäß EN 10028-7", ["EN 10028-7|1.4307"]],
    ["1.4307 gem. EN 10028-7", ["EN 10028-7|1.4307"]],
    ["1.4307 nach EN 10028-7", ["EN 10028-7|1.4307"]],
    ["1.4307 selon EN 10028-7", ["EN 10028-7|1.4307"]],
    ["A240 304L hot rolled stainless steel plates", ["A240|304L"]],
    ["A240 304L cold-rolled sheet, solution annealed, pickled", ["A240|304L"]],
    ["A312 TP304L seamless tubes", ["A312|TP304L"]],
    ["S30403 / 1.4307 to A240 and EN 10088-2", ["A240|S30403", "EN 10088-2|1.4307"]],
    ["X2CrNi18-9 / TP304L to A312 and EN 10216-5", ["EN 10216-5|X2CRNI18-9", "A312|TP304L"]],
    ["A240/A666 304", ["A240|304", "A666|304"]],
    ["ASTM A240 304L; EN 10088-2 1.4307", ["ASTM A240|304L", "EN 10088-2|1.4307"]],
    ["A240|304L", ["A240|304L"]],
    ["A240 & A666 304", ["A240|304", "A666|304"]],
    ["A240 [304L]", ["A240|304L"]],
    ["A240 (304L)", ["A240|304L"]],
    ["A240: 304L", ["A240|304L"]],
    ["-304L-", ["304L"]],
    ["304 L acc. A240", ["A240|304 L"]],
    ["304L per A240", ["A240|304L"]],
    ["304L and 316L to A240", ["A240|304L", "A240|316L"]],
    ["1.4307 und 1.4404 nach EN 10028-7", ["EN 10028-7|1.4307", "EN 10028-7|1.4404"]],
    ["1.4307 et 1.4404 selon EN 10028-7", ["EN 10028-7|1.4307", "EN 10028-7|1.4404"]],
    ["1.4307 secondo EN 10028-7", ["EN 10028-7|1.4307"]],
    ["A240 316 L/LN", ["A240|316 L", "A240|LN"]],
    ["316(LN) A240", ["A240|316", "A240|316LN"]],
    ["316/LN A240", ["A240|316", "A240|316LN"]],
    ["316/H A240", ["A240|316", "A240|316H"]],
    ["304/N A240", ["A240|304", "A240|304N"]],
    ["304(H) A240", ["A240|304", "A240|304H"]],
    ["304(N) A240", ["A240|304", "A240|304N"]],
    ["A106 B/C", ["A106|B", "A106|C"]],
    ["A516-70N", ["A516|70N"]],
    ["A105", ["A105|a105"]],
    ["A105N", ["A105N"]],
    ["A4-80", ["A4-80"]],
    ["B8M", ["B8M"]],
    ["A479 304L bar", ["A479|304L"]],
    ["A276 bars 304L", ["A276|304L"]],
    ["A182 F316L forgings", ["A182|F316L"]],
    ["A269 TP316L coils", ["A269|TP316L"]],
    ["A240 304L strip", ["A240|304L"]],
    ["A312 TP304L pipes", ["A312|TP304L"]],
    ["A240 normalised 304", ["A240|304"]],
    ["A350 LF2 normalized and tempered", ["A350|LF2"]],
    ["cold rolled A240 304", ["A240|304"]],
    ["A312M TP304L", ["A312M|TP304L"]],
    ["SA 312 TP304L", ["SA 312|TP304L"]],
    ["A-240 304L", ["A-240|304L"]],
    ["B209 5083", ["B209|5083"]],
    ["B-209 5083", ["B-209|5083"]],
    ["B 209 5083", ["B 209|5083"]],
    ["A240 / 240M 304L", ["A240 / 240M|304L"]],
    ["A 240/M 304L", ["A 240/M|304L"]],
    ["ASTM A240 2018 304L", ["ASTM A240 2018|304L"]],
    ["A240-18ae1 304L", ["A240-18AE1|304L"]],
    ["A240: 2018 304L", ["A240: 2018|304L"]],
    ["AWS A5.4/A5.4M:2012 E308L-16", ["AWS A5.4/A5.4M:2012|E308L-16"]],
    ["SFA-5.4/SFA-5.4M E308L-16", ["SFA-5.4/SFA-5.4M|E308L-16"]],
    ["ASME A5.9 ER308L", ["ASME A5.9|ER308L"]],
    ["ANSI A5.14 ERNiCr-3", ["ANSI A5.14|ERNICR-3"]],
    ["A-5.9 - 2012 ER308L", ["A-5.9 - 2012|ER308L"]],
    ["API Spec 5L X65", ["API SPEC 5L|X65"]],
    ["API-5L X65", ["API-5L|X65"]],
    ["API5L X65", ["API5L|X65"]],
    ["ISO 3183 L360N", ["ISO 3183|L360N"]],
    ["ISO-14343-A 19 9 L", ["ISO-14343-A|19 9 L"]],
    ["EN/ISO 14343-B SS308L", ["EN/ISO 14343-B|SS308L"]],
    ["EN 10028 1.4307", ["EN 10028|1.4307"]],
    ["EN 10028 - 7 1.4307", ["EN 10028 - 7|1.4307"]],
    ["EN10028-7 1.4307", ["EN10028-7|1.4307"]],
    ["EN 10025-2:2019-10 S355J2", ["EN 10025-2:2019-10|S355J2"]],
    ["DS/EN 10028-7 1.4307", ["DS/EN 10028-7|1.4307"]],
    ["NBN EN 10028-7 1.4307", ["NBN EN 10028-7|1.4307"]],
    ["ČSN EN 10028-7 1.4307", ["ČSN EN 10028-7|1.4307"]],
    ["ÖNORM EN 10028-7 1.4307", ["ÖNORM EN 10028-7|1.4307"]],
    ["F304L to EN 10222-5 and A182", ["A182|F304L"]],
    [
      "WP304L / CF8M / Type 316 to A403 and EN 10253-4",
      ["A403|WP304L", "A403|CF8M", "EN 10253-4|CF8M", "A403|TYPE 316"],
    ],
    ["N08904 to EN 10028-7 and B625", ["B625|N08904"]],
    ["EN AW-5083 to A36 and EN 485-2", ["EN 485-2|EN AW-5083"]],
    ["3040 to A240 and EN 10028-7", ["A240|3040", "EN 10028-7|3040"]],
    ["stainless", []],
    ["ABCD", []],
    ["ABC", ["ABC"]],
    ["", []],
  ])("%s", (text, expected) => {
    expect(parsed(text)).toEqual(expected);
  });

  it("keeps the edition apart", () => {
    expect(parseGradeText("A240-04 304")).toEqual([{ standard: "A240-04", edition: "04", grade: "304" }]);
  });

  it("takes a text of three hundred letters and no longer one", () => {
    expect(parseGradeText(`A240 304L${" 316".repeat(72)}   `)).toHaveLength(1);
    expect(parseGradeText(`A240 304L${" 316".repeat(72)}    `)).toEqual([]);
  });

  it("takes any text", () => {
    fc.assert(fc.property(fc.string({ maxLength: 400 }), (text) => Array.isArray(parseGradeText(text))));
    expect(parseGradeText("A240/".repeat(10_000))).toEqual([]);
  });
});

describe("an edition that is written out", () => {
  it.each([
    ["A240 ed. 2018 304L", ["A240-2018|304L"]],
    ["A240 ed.18 304L", ["A240-18|304L"]],
    ["ASTM A240 edition 2018 304L", ["ASTM A240-2018|304L"]],
    ["ASME SA-240 Ed. 2019 Type 304L", ["ASME SA-240-2019|TYPE 304L"]],
    ["SA-240 304L (2019 Edition)", ["SA-240-2019|304L"]],
    ["SA-240 304L 2019 Ed.", ["SA-240-2019|304L"]],
    ["ASTM A240 304L, ed. 2018", ["ASTM A240-2018|304L"]],
    ["ASTM A240 (2018) 304L", ["ASTM A240-2018|304L"]],
    ["ASTM A240, 2018, 304L", ["ASTM A240-2018|304L"]],
    ["EN 10028-7 (2016-10) 1.4307", ["EN 10028-7-2016|1.4307"]],
    ["EN 10028-7 Ausgabe 2016-10, 1.4307", ["EN 10028-7-2016|1.4307"]],
    ["A240 ed. 2018 304L / EN 10028-7 ed. 2016 1.4307", ["A240-2018|304L", "EN 10028-7-2016|1.4307"]],
    // One edition is enough, and a number that may be a grade's stays one.
    ["ASTM A240-18 ed. 2019 304L", ["ASTM A240-18|2019 304L"]],
    ["A240 304L (2101)", ["A240|304L", "A240|2101"]],
    ["A240 2205, 2507", ["A240|2205", "A240|2507"]],
    // Nothing in front of it has an edition.
    ["ed. 2018 304L", ["2018 304L"]],
  ])("%s", (text, entries) => {
    expect(parsed(text)).toEqual(entries);
  });

  it("is told beside the standard", () => {
    expect(parseGradeText("SA-240 304L (2019 Edition)")).toEqual([
      { standard: "SA-240-2019", edition: "2019", grade: "304L" },
    ]);
  });
});

describe("words and signs around a grade", () => {
  it.each([
    ["ASTM A240 304/304L dual certified", ["ASTM A240|304", "ASTM A240|304L"]],
    ["304/304L dual", ["304", "304L"]],
    ["A240 304+304L", ["A240|304", "A240|304L"]],
    ["1.4307+AT", ["1.4307+AT"]],
    ["A240 304L latest edition", ["A240|304L"]],
    ["EN 10028-7 1,4307", ["EN 10028-7|1.4307"]],
    ["304, 1,4307", ["304", "1.4307"]],
    ["1,43075", ["1", "43075"]],
  ])("%s", (text, entries) => {
    expect(parsed(text)).toEqual(entries);
  });
});
