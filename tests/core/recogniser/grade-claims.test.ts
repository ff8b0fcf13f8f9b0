import { describe, expect, it } from "vitest";
import type { GradeClaim } from "../../../core/certificate/certificate.js";
import { pairClaims, readGradeClaims } from "../../../core/recogniser/grade-claims.js";

const tell = (claims: readonly GradeClaim[]) =>
  claims.map(({ standard = "", edition, grade }) => `${standard}${edition ? `:${edition}` : ""} ${grade}`.trim());

describe("grade claims", () => {
  it.each<[string, string[]]>([
    [
      "ASTM A240-18 / ASME SA240 Type 304/304L, EN 10028-7 1.4307+AT",
      ["ASTM A240:18 304", "ASME SA-240 304", "ASTM A240:18 304L", "ASME SA-240 304L", "EN 10028-7 1.4307+AT"],
    ],
    ["ASTM A240/A240M-23 UNS S30403", ["ASTM A240/A240M:23 S30403"]],
    ["EN 10028-7:2016 X2CrNi18-9 (1.4307)", ["EN 10028-7:2016 X2CrNi18-9", "EN 10028-7:2016 1.4307"]],
    ["A240 304/304L", ["ASTM A240 304", "ASTM A240 304L"]],
    ["SA-240 Gr. 316L", ["ASME SA-240 316L"]],
    ["1.4404/316L", ["1.4404", "316L"]],
    ["ASTM A312 TP304L", ["ASTM A312 TP304L"]],
    ["ASTM A516 Gr 70", ["ASTM A516 70"]],
    ["A 106 Gr.B", ["ASTM A106 B"]],
    ["ASTM A36", ["ASTM A36 A36"]],
    ["EN 10025-2 S355J2+N", ["EN 10025-2 S355J2+N"]],
    ["API 5L X65", ["API 5L X65"]],
    ["JIS G4304 SUS304L", ["JIS G4304 SUS304L"]],
    ["AWS A5.9 ER308LSi", ["AWS A5.9 ER308LSi"]],
    ["EN ISO 14343-A G 19 9 L Si", ["EN ISO 14343 G 19 9 L Si"]],
    // Inspection documents and test standards are never what the material is.
    ["EN 10204 3.1", []],
    ["EN ISO 6892-1, ASTM A370", []],
    ["plate 12 x 2000 mm", []],
  ])("%s", (text, claims) => expect(tell(readGradeClaims(text))).toEqual(claims));

  it("gives grades of one field to the standards of another by the way they are written", () =>
    expect(tell(pairClaims("304/304L/1.4307", "ASTM A240/A240M-23; EN 10028-7:2016"))).toEqual([
      "ASTM A240/A240M:23 304",
      "ASTM A240/A240M:23 304L",
      "EN 10028-7:2016 1.4307",
    ]));

  it.each<[grade: string, standard: string, claims: string[]]>([
    ["70", "ASTM A516", ["ASTM A516 70"]],
    ["B", "API 5L", ["API 5L B"]],
    ["Q9", "ASTM A999-20", ["ASTM A999:20 Q9"]],
    ["Q9", "", ["Q9"]],
    ["304L", "", ["304L"]],
    ["see order", "ASTM A240", []],
    ["-", "ASTM A240", []],
    ["EN 10204 3.1", "ASTM A240", []],
    ["12 pieces as delivered to the yard of the order", "ASTM A240", []],
  ])(
    "takes what the grade's own field says for a claim, in whatever way it is written: %s of %s",
    (grade, standard, claims) => expect(tell(pairClaims(grade, standard))).toEqual(claims),
  );
});
