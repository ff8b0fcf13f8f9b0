import { describe, expect, it } from "vitest";
import type { Certificate, Reading } from "../../../core/certificate/certificate.js";
import type { ToleranceTable } from "../../../core/grades/grade.js";
import { reportFinding } from "../../../core/report/report-finding.js";
import { parseMeasure } from "../../../core/requirement/parse-measure.js";
import { type ImpactRequirement, requirementSchema } from "../../../core/requirement/requirement.js";
import type { AppliedLimit } from "../../../core/verdict/applied-limit.js";
import { demandOfProject } from "../../../core/verdict/impact-demand.js";
import { judgeDocumentType } from "../../../core/verdict/judge-document.js";
import { judgeHeat } from "../../../core/verdict/judge-heat.js";
import { judgeImpact } from "../../../core/verdict/judge-impact.js";
import { judgeLimit } from "../../../core/verdict/judge-limit.js";
import type { Judgement } from "../../../core/verdict/judgement.js";
import { heatOf, impactSet, reading, statement } from "../../support/heat.js";
import { appliedLimit, evidenceOf, MEMORY } from "../../support/judging.js";

/** "fail: sentence", "undetermined not-reported: sentence", and the readings that it rests on. */
function told(judgements: readonly Judgement[]): string[] {
  return judgements.map((judgement) => {
    const { outcome, reason, message, readings } = reportFinding(judgement);
    return `${[outcome, reason].filter(Boolean).join(" ")}: ${message} [${readings.join(", ")}]`;
  });
}

const carbon = appliedLimit({ quantity: "C", max: "0.030" });
const tensile = appliedLimit({ quantity: "Rm", min: "485", max: "680" });
const elongation = appliedLimit({ quantity: "A50", min: "40" });
const sum = appliedLimit({ quantity: "Cr", sumOf: ["Cr", "Mo"], max: "0.32" });
const weld = { quantity: "Rm", min: "485", when: { zone: "weld", orientation: "transverse" } } as const;
const american = { claimedStandards: ["ASTM X1"] };

describe("a product analysis outside, in words", () => {
  const chromium = (tolerances: ToleranceTable["rows"]) =>
    appliedLimit(
      { quantity: "Cr", min: "17.5", max: "19.5", analysis: "heat" },
      { tolerances: { id: "ours", standard: "ASTM X2", edition: "2020", rows: tolerances } },
    );
  const row = (side: "underMin" | "overMax", allowance: string) =>
    ({ element: "Cr", limit: { over: "5", upTo: "30" }, [side]: allowance, known: MEMORY }) as const;

  it.each<[string, AppliedLimit, string, string]>([
    [
      "below, where each end has a tolerance of its own",
      chromium([row("overMax", "0.25"), row("underMin", "0.20")]),
      "17.40",
      "Chromium 17.40 % in product analysis is below the 17.5 % minimum of X; the product-analysis tolerance of 0.20 % is not verified.",
    ],
    [
      "above",
      chromium([row("overMax", "0.25"), row("underMin", "0.20")]),
      "19.6",
      "Chromium 19.6 % in product analysis is above the 19.5 % maximum of X; the product-analysis tolerance of 0.25 % is not verified.",
    ],
    [
      "with no tolerance for the element",
      chromium([]),
      "19.6",
      "Chromium 19.6 % in product analysis is above the 19.5 % maximum of X; no product-analysis tolerance is held here that could allow it.",
    ],
  ])("%s", (_name, applied, text, sentence) => {
    const readings = [reading("Cr", "18.0"), reading("Cr", text, { analysis: "product" })];
    const [, product] = judgeLimit(applied, evidenceOf(readings));
    expect(told([product!])).toEqual([`undetermined reference-unverified: ${sentence} [2]`]);
  });
});

describe("one limit, in words", () => {
  it.each<[string, AppliedLimit, Reading[], string]>([
    [
      "inside",
      carbon,
      [reading("C", "0.021")],
      "pass: Carbon 0.021 % is within the 0.030 % maximum of X, 0.009 % to spare. [1]",
    ],
    [
      "above",
      carbon,
      [reading("C", "0.034")],
      "fail: Carbon 0.034 % is above the 0.030 % maximum of X, by 0.004 %. [1]",
    ],
    [
      "below",
      tensile,
      [reading("Rm", "480")],
      "fail: Tensile strength Rm 480 MPa is below the range 485 to 680 MPa of X, by 5 MPa. [1]",
    ],
    [
      "not there",
      carbon,
      [],
      "undetermined not-reported: Carbon is not reported; required is the 0.030 % maximum of X. []",
    ],
    [
      "a bound",
      carbon,
      [reading("C", "<0.05")],
      'undetermined bound-not-decisive: Carbon is given only as "<0.05", which does not decide against the 0.030 % maximum of X. [1]',
    ],
    [
      "read badly",
      carbon,
      [reading("C", "0.021", { confidence: 0.5 })],
      "undetermined low-confidence: Carbon 0.021 % was not read with certainty (confidence 0.50); confirm it on the document. [1]",
    ],
    [
      "a sum with an element missing",
      sum,
      [reading("Cr", "0.20")],
      "undetermined not-reported: Cr+Mo cannot be decided: Mo is not reported. [1]",
    ],
    [
      "a sum known as a range",
      sum,
      [reading("Cr", "0.30"), reading("Mo", "<0.05")],
      "undetermined bound-not-decisive: Cr+Mo lies between 0.30 and 0.35, which does not decide against the 0.32 % maximum of X. [1, 2]",
    ],
    [
      "recalled",
      appliedLimit({ quantity: "C", max: "0.030", known: MEMORY }),
      [reading("C", "0.034")],
      "undetermined reference-unverified: Carbon 0.034 % is above the 0.030 % maximum of X, a limit that is not verified; confirm the limit before deciding. [1]",
    ],
    [
      "recalled, below",
      appliedLimit({ quantity: "Rm", min: "485", known: MEMORY }),
      [reading("Rm", "480")],
      "undetermined reference-unverified: Tensile strength Rm 480 MPa is below the 485 MPa minimum of X, a limit that is not verified; confirm the limit before deciding. [1]",
    ],
    [
      "of another dimension",
      tensile,
      [reading("Rm", "500 J")],
      "undetermined unit-unknown: Tensile strength Rm 500 J is in J, which cannot be held against the range 485 to 680 MPa of X. [1]",
    ],
    [
      "of another gauge length",
      elongation,
      [reading("A", "54")],
      "undetermined gauge-length-unknown: Elongation is reported as A and required as A50: different gauge lengths are not comparable. [1]",
    ],
    [
      "cold",
      tensile,
      [reading("Rm", "1400", { temperature: parseMeasure("-196 °C", "temperature")! })],
      "undetermined not-reported: Tensile strength Rm: no test answers the range 485 to 680 MPa of X (tested at -196 °C). [1]",
    ],
    [
      "of the base metal",
      appliedLimit(weld),
      [reading("Rm", "500")],
      "undetermined not-reported: Tensile strength Rm: no test answers the 485 MPa minimum of X (tested in zone base, required is weld). [1]",
    ],
    [
      "of the weld",
      tensile,
      [reading("Rm", "500", { zone: "weld" })],
      "undetermined not-reported: Tensile strength Rm: no test answers the range 485 to 680 MPa of X (tested in zone weld, required is base). [1]",
    ],
    [
      "along instead of across",
      appliedLimit(weld),
      [reading("Rm", "500", { zone: "weld", orientation: "longitudinal" })],
      "undetermined not-reported: Tensile strength Rm: no test answers the 485 MPa minimum of X (longitudinal, required is transverse). [1]",
    ],
    [
      "elsewhere in two ways",
      tensile,
      [
        reading("Rm", "500", { zone: "weld" }),
        reading("Rm", "510", { zone: "haz" }),
        reading("Rm", "520", { zone: "haz" }),
      ],
      "undetermined not-reported: Tensile strength Rm: no test answers the range 485 to 680 MPa of X (tested in zone weld, required is base; tested in zone haz, required is base). [1, 2, 3]",
    ],
    [
      "repaired by a retest",
      tensile,
      [reading("Rm", "480"), reading("Rm", "500", { retest: true })],
      "undetermined retest-needed: Tensile strength Rm 480 MPa does not meet the range 485 to 680 MPa of X, and the retest does: whether ASTM X1 allows it is for a person to decide. [1, 2]",
    ],
    [
      "only a retest",
      tensile,
      [reading("Rm", "500", { retest: true })],
      "undetermined retest-needed: Tensile strength Rm 500 MPa is the result of a retest; the test that it repeats is not reported. [1]",
    ],
    [
      "a retest beside a pass",
      tensile,
      [reading("Rm", "500"), reading("Rm", "490", { retest: true })],
      "pass: Tensile strength Rm 500 MPa is within the range 485 to 680 MPa of X, 15 MPa to spare. [1, 2]",
    ],
    [
      "only to be reported",
      appliedLimit({ quantity: "N", reportOnly: true }),
      [reading("N", "0.062")],
      "pass: Nitrogen 0.062 % is reported, as required. [1]",
    ],
    [
      "on another scale",
      appliedLimit({ quantity: "HBW", max: "201" }),
      [reading("HRB", "85")],
      "undetermined not-comparable: Rockwell B hardness is reported and HBW is required: they are not converted silently. [1]",
    ],
    [
      "in the other unit system",
      appliedLimit({ quantity: "Rm", min: "125", unit: "ksi" }),
      [reading("Rm", "861 MPa")],
      "undetermined not-comparable: Tensile strength Rm 861 MPa, judged as 125 ksi, is too near the 125 ksi minimum of X to decide by conversion: ASTM X1 may print a value in MPa of its own, which is not held here. [1]",
    ],
    [
      "that other elements bound",
      appliedLimit({ quantity: "Ti", minFrom: { times: "5", of: ["C"] } }),
      [reading("Ti", "0.080"), reading("C", "<0.020")],
      "undetermined bound-not-decisive: Titanium 0.080 % cannot be decided against the 0.100 % minimum of X: the limit depends on C, of which too little is known. [1, 2]",
    ],
    [
      "not seen on any fracture",
      appliedLimit({ quantity: "SFA", min: "50" }),
      [],
      "undetermined not-reported: Shear fracture appearance is not reported; required is the 50 % minimum of X. []",
    ],
  ])("%s", (_, applied, readings, expected) => {
    expect(told(judgeLimit(applied, evidenceOf(readings, american)))).toEqual([expected]);
  });
});

describe("an impact set, in words", () => {
  const WANTED: ImpactRequirement = {
    zone: "base",
    temperature: "-196 °C",
    average: "60 J",
    rule: "ASME VIII",
    orientation: "transverse",
    striker: 8,
  };
  const said = (readings: readonly Reading[], wanted: Partial<ImpactRequirement> = {}) => {
    const { impact } = requirementSchema.parse({ requirement: 1, name: "T-204", impact: [{ ...WANTED, ...wanted }] });
    const evidence = evidenceOf(readings);
    return told(judgeImpact(demandOfProject(impact![0]!, 0, "T-204", "absolute"), evidence));
  };
  const across = { orientation: "transverse", striker: 8 } as const;

  it.each<[string, Reading[], string]>([
    [
      "not there",
      [],
      "undetermined not-reported: Impact energy KV (base metal at -196 °C, transverse) is not reported; required is the 60 J minimum of T-204. []",
    ],
    [
      "too warm",
      impactSet(["80"], { ...across, at: "-101 °C" }),
      "undetermined not-reported: Impact energy KV: no test answers the 60 J minimum of T-204 (tested at -101 °C, warmer than the required -196 °C). [1]",
    ],
    [
      "along instead of across",
      impactSet(["80"], { ...across, orientation: "longitudinal" }),
      "undetermined not-reported: Impact energy KV: no test answers the 60 J minimum of T-204 (longitudinal, required is transverse). [1]",
    ],
    [
      "in no stated direction",
      impactSet(["80"], { striker: 8 }),
      "undetermined not-reported: Impact energy KV: no test answers the 60 J minimum of T-204 (direction not stated, required is transverse). [1]",
    ],
    [
      "by another striker",
      impactSet(["80"], { ...across, striker: 2 }),
      "undetermined not-reported: Impact energy KV: no test answers the 60 J minimum of T-204 (2 mm striker, required is 8 mm). [1]",
    ],
    [
      "by an unstated striker",
      impactSet(["80"], { orientation: "transverse" }),
      "undetermined not-reported: Impact energy KV: no test answers the 60 J minimum of T-204 (the striker radius is not stated, required is 8 mm). [1]",
    ],
    [
      "at no stated temperature",
      impactSet(["80"], across).map(({ temperature: _, ...piece }) => piece),
      "undetermined not-reported: Impact energy KV: no test answers the 60 J minimum of T-204 (the test temperature is not stated). [1]",
    ],
    [
      "with narrow pieces",
      impactSet(["80"], { ...across, specimenWidth: parseMeasure("5 mm", "length")! }),
      "undetermined not-comparable: Impact energy KV 80 J cannot be accepted: the pieces are 5 mm wide and no rule for sub-size pieces is named. [1]",
    ],
    [
      "with wide pieces",
      impactSet(["80"], { ...across, specimenWidth: parseMeasure("12 mm", "length")! }),
      "undetermined not-comparable: Impact energy KV 80 J cannot be accepted: pieces 12 mm wide are wider than the standard test piece of 10 mm. [1]",
    ],
    [
      "that is only a retest",
      impactSet(["80"], { ...across, retest: true }),
      "undetermined retest-needed: Impact energy KV 80 J cannot be accepted: only a retest is reported, the set that it repeats is not. [1]",
    ],
    [
      "of bounds",
      impactSet([">59", ">59", ">60"], across),
      'undetermined bound-not-decisive: Impact energy KV is given only as ">59", which does not decide against the 60 J minimum of T-204. [1, 2, 3]',
    ],
  ])("%s", (_, readings, expected) => {
    expect(said(readings)).toEqual([expected]);
  });
});

describe("a document's type, in words", () => {
  const { requirement } = {
    requirement: requirementSchema.parse({ requirement: 1, name: "T-204", document: { type: "3.1" } }),
  };
  const certificate = (type: string | undefined, quantity: "C" | "KV", confidence = 1): Certificate => ({
    ...(type !== undefined && { type: { ...statement(type), confidence } }),
    heats: [{ heat: statement("H4471"), readings: [reading(quantity, "0.021")], claims: [], product: {} }],
    doubts: [],
  });
  it.each<[string, Certificate[], string]>([
    ["right", [certificate("3.1", "C")], "pass: Inspection document type 3.1 (EN 10204); 3.1 is required. []"],
    ["too low", [certificate("2.2", "C")], "fail: Inspection document type 2.2 (EN 10204); 3.1 is required. []"],
    [
      "not stated",
      [certificate(undefined, "C")],
      "undetermined not-reported: No document states its EN 10204 type; 3.1 is required. []",
    ],
    [
      "read badly",
      [certificate("3.1", "C", 0.5)],
      "undetermined low-confidence: No document states its EN 10204 type; 3.1 is required. []",
    ],
    [
      "too low beside",
      [certificate("3.1", "C"), certificate("2.2", "KV")],
      "undetermined document-type: Documents with results of this heat state the EN 10204 types 2.2 and 3.1; 3.1 is required of each. []",
    ],
  ])("%s", (_, certificates, expected) => {
    const judgements = judgeDocumentType(requirement, certificates, "H4471");
    expect(told(judgements)).toEqual([expected]);
    expect(judgements).toMatchObject([
      { quantity: "document type", source: { standard: "T-204", clause: "document type" }, notes: [] },
    ]);
  });
});

describe("a heat that nothing can be held to, in words", () => {
  const library = { grades: [], tolerances: [] };
  const judged = (confidence = 1) =>
    judgeHeat({
      heat: heatOf([], { claims: [], confidence }),
      certificates: [],
      doubts: [],
      requirement: null,
      library,
    }).judgements;

  it("is not passed", () => {
    expect(told(judged())).toEqual([
      "undetermined nothing-judged: Nothing could be judged: neither the requirement nor the certificate names a grade or limit that is known here. []",
    ]);
    expect(judged()).toMatchObject([{ quantity: "grade", source: { standard: "requirement" }, notes: [] }]);
  });

  it("is doubted where its number was not read with certainty", () => {
    expect(told(judged(0.85))).toHaveLength(1);
    expect(told(judged(0.84)).slice(1)).toEqual([
      "undetermined low-confidence: Heat number was not read with certainty (confidence 0.84); confirm it on the document. []",
    ]);
    expect(judged(0.84)[1]).toMatchObject({ quantity: "heat number", source: { standard: "certificate" }, notes: [] });
  });
});
