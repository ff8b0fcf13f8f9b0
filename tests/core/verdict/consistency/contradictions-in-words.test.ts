import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../core/certificate/certificate.js";
import type { LibraryGrade } from "../../../../core/grades/grade.js";
import { reportFinding } from "../../../../core/report/report-finding.js";
import { acrossHeatsContradictions } from "../../../../core/verdict/consistency/across-heats.js";
import { dateContradictions, heatContradictions } from "../../../../core/verdict/consistency/consistency.js";
import type { Judgement } from "../../../../core/verdict/judgement.js";
import { impactSet, reading } from "../../../support/heat.js";
import { appliedLimit, evidenceOf } from "../../../support/judging.js";
import { numbered } from "./saying.js";

/** An invented grade whose limits a specification row repeats. */
const GRADE: LibraryGrade = {
  digest: "sha256:0",
  grade: {
    id: "ours/2020/x",
    standard: "Tarnholm 12",
    edition: { name: "2020" },
    name: "X 12",
    designations: ["X12"],
    forms: ["plate"],
    rounding: "absolute",
    limits: [
      appliedLimit({ quantity: "C", max: "0.030" }).limit,
      appliedLimit({ quantity: "Mn", max: "2.00" }).limit,
      appliedLimit({ quantity: "P", max: "0.045" }).limit,
      appliedLimit({ quantity: "S", max: "0.030" }).limit,
    ],
  },
};

const carbonSteel = ["C 0.17", "Mn 1.38", "Cr 0.04", "Mo 0.01", "V 0.01", "Ni 0.05", "Cu 0.08"].map((text) =>
  reading(text.split(" ")[0] as "C", text.split(" ")[1]!),
);

describe("everything in one heat that does not fit, in words, with what it rests on", () => {
  it.each<[string, Reading[], string, string, number[]]>([
    [
      "strengths in the wrong order",
      [reading("Rp0.2", "610"), reading("Rm", "604")],
      "Rp0.2 610 MPa is above Rm 604 MPa of the same test",
      "by definition, ISO 6892-1",
      [1, 2],
    ],
    [
      "two analyses",
      [reading("Mn", "1.62"), reading("S", "20 ppm"), reading("Mn", "1.71"), reading("S", "30 ppm")],
      "the heat has two analyses: Mn 1.62 % and 1.71 %, S 0.0020 % and 0.0030 %",
      "one melt has one heat analysis",
      [1, 3, 2, 4],
    ],
    [
      "more than the whole",
      [reading("Cr", "18.2"), reading("Fe", "73.7"), reading("Ni", "8.11")],
      "the elements add up to 100.01 %",
      "arithmetic",
      [1, 2, 3],
    ],
    [
      "an average that does not follow",
      impactSet(["61", "65", "64"], { average: "66" }),
      "the stated average 66 does not follow from 61, 65, 64, which average 63.3",
      "arithmetic",
      [4, 1, 2, 3],
    ],
    ["a share above the whole", [reading("Z", "101")], "Z 101 % is above 100 %", "by definition", [1]],
    [
      "yield and tensile strength too far apart",
      [reading("Rp0.2", "80"), reading("Rm", "600")],
      "Rp0.2 80 MPa and Rm 600 MPa of the same test are further apart than in any metal",
      "common practice, no source",
      [1, 2],
    ],
    [
      "no hardening",
      [reading("Rp0.2", "600"), reading("Rm", "600"), reading("A50", "54")],
      "Rp0.2 600 MPa and Rm 600 MPa of the same test leave no hardening to a metal that stretches by A50 54 %",
      "common practice, no source",
      [1, 2, 3],
    ],
    [
      "a lost decimal sign",
      [reading("A50", "540")],
      "A50 540 % lies outside anything such metals do; 54.0 %, 5.40 % or 0.540 % would fit",
      "common practice, no source",
      [1],
    ],
    [
      "a temperature that is none",
      impactSet(["61", "65"], { at: "-320 °C" }),
      "the test temperature -320 °C is below absolute zero; -320 °F would fit",
      "by definition",
      [1, 2],
    ],
    [
      "a temperature that is none in any unit",
      impactSet(["61"], { at: "-500 °C" }),
      "the test temperature -500 °C is below absolute zero",
      "by definition",
      [1],
    ],
    [
      "a carbon equivalent that does not follow",
      [...carbonSteel, reading("CE", "0.50")],
      "the stated CE 0.50 does not follow from the elements, which give 0.421 (0.411 to 0.430)",
      "arithmetic of the formula",
      [8, 1, 2, 3, 4, 5, 6, 7],
    ],
    [
      "a specification row",
      [reading("C", "0.030"), reading("Mn", "2.00"), reading("P", "0.045"), reading("S", "0.030")],
      "C, Mn, P, S all stand exactly on the limits of X 12, as a specification row would",
      "common practice, no source",
      [1, 2, 3, 4],
    ],
  ])("%s", (_, readings, what, clause, ids) => {
    expect(heatContradictions(evidenceOf(readings), [GRADE])).toEqual([
      {
        outcome: "undetermined",
        reason: "contradiction",
        quantity: "consistency",
        readings: ids.map((id) => numbered(readings)[id - 1]!),
        source: { standard: "consistency of the documents", clause },
        says: { code: "contradiction", what },
        notes: [],
      } satisfies Judgement,
    ]);
  });

  it("an order that says another thing than the documents", () => {
    const evidence = evidenceOf([], { facts: { disagreements: ["thickness"] } });
    expect(heatContradictions(evidence, []).map(told)).toEqual([
      "requirement and documents disagree on the thickness (order against documents)",
    ]);
  });

  it("a test after the signature", () => {
    const certificates = [{ date: { value: "2026-02-28" }, testDate: { value: "2026-03-01" } }];
    expect(dateContradictions(certificates).map(told)).toEqual([
      "the test date 2026-03-01 is after the certificate's date 2026-02-28 (order of time)",
    ]);
  });
});

describe("what two heats have alike, in words", () => {
  it("is said once for a test and once for an analysis, tests first", () => {
    const readings = numbered([
      ...["C 0.021", "Si 0.41", "Mn 1.62", "P 0.031", "Cr 18.21", "Ni 8.12"].map((text) =>
        reading(text.split(" ")[0] as "C", text.split(" ")[1]!),
      ),
      ...impactSet(["61", "63", "65"]),
    ]);
    const said = acrossHeatsContradictions([
      { heat: "H1", readings },
      { heat: "H2", readings },
    ]);
    expect(said.get("H1")?.map(told)).toEqual([
      "the results KV 61, KV 63, KV 65 are the same as those of heat H2 (common practice, no source)",
      "the analysis C 0.021, Si 0.41, Mn 1.62, P 0.031, Cr 18.21, Ni 8.12 is the same as that of heat H2" +
        " (common practice, no source)",
    ]);
  });
});

it("a contradiction as the report has it", () => {
  const [judgement] = heatContradictions(evidenceOf([reading("Z", "101")]), []);
  expect(reportFinding(judgement!)).toMatchObject({
    outcome: "undetermined",
    reason: "contradiction",
    readings: [1],
    message: expect.stringContaining("Z 101 % is above 100 %"),
  });
});

function told({ says, source }: Judgement): string {
  return says.code === "contradiction" ? `${says.what} (${source.clause})` : says.code;
}
