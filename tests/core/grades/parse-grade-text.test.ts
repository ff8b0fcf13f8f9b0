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
  ])("%s", (text, expected) => {
    expect(parsed(text)).toEqual(expected);
  });

  it("keeps the edition apart", () => {
    expect(parseGradeText("A240-04 304")).toEqual([{ standard: "A240-04", edition: "04", grade: "304" }]);
  });

  it("takes any text", () => {
    fc.assert(fc.property(fc.string({ maxLength: 400 }), (text) => Array.isArray(parseGradeText(text))));
    expect(parseGradeText("A240/".repeat(10_000))).toEqual([]);
  });
});
