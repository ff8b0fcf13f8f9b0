import { describe, expect, it } from "vitest";
import type { Reading } from "../../../core/certificate/certificate.js";
import { type Quantity, reportUnit } from "../../../core/quantity/quantity.js";
import { parseMeasure } from "../../../core/requirement/parse-measure.js";
import type { AppliedLimit } from "../../../core/verdict/applied-limit.js";
import type { HeatEvidence } from "../../../core/verdict/heat-evidence.js";
import { judgeLimit } from "../../../core/verdict/judge-limit.js";
import { reading } from "../../support/heat.js";
import { appliedLimit, evidenceOf, outcomesOf, SEEN } from "../../support/judging.js";

function judged(applied: AppliedLimit, readings: readonly Reading[], more: Partial<HeatEvidence> = {}) {
  return judgeLimit(applied, evidenceOf(readings, more))[0]!;
}

const strength = appliedLimit({ quantity: "Rm", min: "485", inchPound: { unit: "ksi", min: "70" } });
const proof = appliedLimit({ quantity: "Rp0.2", min: "170" });
const elongation = appliedLimit({ quantity: "A50", min: "40" });

it("an index that is only to be reported needs a printed value and bounds nothing", () => {
  const reported = appliedLimit({ quantity: "CE", unit: "1", formula: "CE (IIW)", reportOnly: true });
  expect(outcomesOf([judged(reported, [reading("CE", "0.44")])])).toEqual(["pass"]);
  expect(outcomesOf([judged(reported, [reading("C", "0.18")])])).toEqual(["undetermined not-reported"]);
});

describe("tests that a room-temperature limit holds", () => {
  // ISO 6892-1, clause 5: 10 to 35 °C.
  it.each([
    ["9.9 °C", "undetermined not-reported"],
    ["10 °C", "fail"],
    ["20 °C", "fail"],
    ["35 °C", "fail"],
    ["35.1 °C", "undetermined not-reported"],
    ["95 °F", "fail"], // 35 °C
    ["-196 °C", "undetermined not-reported"],
  ])("a strength of 400 MPa at %s: %s", (text, outcome) => {
    const temperature = parseMeasure(text, "temperature")!;
    expect(outcomesOf([judged(strength, [reading("Rm", "400", { temperature })])])).toEqual([outcome]);
  });

  it.each<[AppliedLimit["limit"]["when"], Partial<Reading>, string]>([
    [undefined, {}, "fail"],
    [undefined, { zone: "base" }, "fail"],
    [undefined, { zone: "weld" }, "undetermined not-reported"],
    [{ zone: "weld" }, { zone: "weld" }, "fail"],
    [{ zone: "weld" }, {}, "undetermined not-reported"],
    [{ orientation: "transverse" }, { orientation: "transverse" }, "fail"],
    [{ orientation: "transverse" }, { orientation: "longitudinal" }, "undetermined not-reported"],
    [{ orientation: "transverse" }, {}, "fail"],
    [undefined, { orientation: "longitudinal" }, "fail"],
  ])("a limit for %j and a test %j: %s", (when, test, outcome) => {
    const applied = appliedLimit({ quantity: "Rm", min: "485", ...(when && { when }) });
    expect(outcomesOf([judged(applied, [reading("Rm", "400", test)])])).toEqual([outcome]);
  });
});

describe("the unit of the limit", () => {
  it.each([
    ["485 MPa", "pass", "MPa", []],
    ["485 N/mm2", "pass", "MPa", []],
    ["49.5 kgf/mm2", "pass", "MPa", [{ code: "converted", from: "kgf/mm2" }]],
    ["0.486 GPa", "pass", "MPa", [{ code: "converted", from: "GPa" }]],
    ["70 ksi", "pass", "ksi", [{ code: "inch-pound" }]],
    ["70000 psi", "pass", "ksi", [{ code: "inch-pound" }]],
    ["69 ksi", "fail", "ksi", [{ code: "inch-pound" }]],
  ])("a strength of %s: %s, held in %s", (text, outcome, unit, notes) => {
    expect(judged(strength, [reading("Rm", text)])).toMatchObject({ outcome, unit, limit: { unit }, notes });
  });

  it("converts an inch-pound value where the standard has no inch-pound limit", () => {
    // 70.34 ksi are 484.98 MPa, 485 to the last place of the limit.
    const european = { source: { standard: "EN X1", clause: "Table 1", known: SEEN } };
    const finding = judged(appliedLimit({ quantity: "Rm", min: "485" }, european), [reading("Rm", "70.34 ksi")]);
    const notes = [{ code: "converted", from: "ksi" }, { code: "methods-disagree" }];
    expect(finding).toMatchObject({ outcome: "pass", unit: "MPa", notes });
  });

  it("leaves a value of another dimension undetermined, with that value", () => {
    expect(judged(strength, [reading("Rm", "500"), reading("Rm", "500 J")])).toMatchObject({
      outcome: "undetermined",
      reason: "unit-unknown",
      says: { code: "unit-unknown", stated: "J" },
      readings: [{ id: 2 }],
    });
  });
});

describe("a yield strength or an elongation of unstated kind", () => {
  it.each([
    [["ASTM X1"], "pass"],
    [["ASME SA-240"], "pass"],
    [["SA-240", "A 240", "SFA-5.9", "AWS A5.9", "API 5L", "B209"], "pass"],
    [["A240/A240M"], "pass"],
    [["ASTM X1", "EN 10028-7"], "undetermined kind-unknown"],
    [["EN 10028-7"], "undetermined kind-unknown"],
    [["DIN EN 10025 with ASTM notes"], "undetermined kind-unknown"],
    [[], "undetermined kind-unknown"],
  ])("beside claims of %j, held to an American proof strength: %s", (claimedStandards, outcome) => {
    const finding = judged(proof, [reading("Yield", "291")], { claimedStandards });
    expect(outcomesOf([finding])).toEqual([outcome]);
    if (outcome === "pass")
      expect(finding.notes).toMatchObject([{ code: "implied-kind", stated: "Yield", taken: "Rp0.2" }]);
    else expect(finding.says).toEqual({ code: "kind-unknown", stated: "Yield" });
  });

  it("is ReH in a European grade, and nothing in a project's limit", () => {
    const european = { source: { standard: "EN 10025-2" } };
    const claims = { claimedStandards: ["EN 10025-2"] };
    const yielding = appliedLimit({ quantity: "ReH", min: "355" }, european);
    expect(outcomesOf([judged(yielding, [reading("Yield", "360")], claims)])).toEqual(["pass"]);
    const { holder: _, ...project } = yielding;
    expect(outcomesOf([judged(project, [reading("Yield", "360")], claims)])).toEqual(["undetermined kind-unknown"]);
  });

  it("says which gauge length is wanted", () => {
    expect(judged(elongation, [reading("Elongation", "54")], { claimedStandards: ["EN 10028-7"] })).toMatchObject({
      reason: "gauge-length-unknown",
      says: { code: "gauge-unknown", wanted: "A50" },
      readings: [{ id: 1 }],
    });
    expect(outcomesOf([judged(elongation, [reading("Elongation", "54")])])).toEqual(["pass"]);
  });

  it("does not stand in where the stated kind is reported, nor for a kind that it never means", () => {
    expect(outcomesOf([judged(proof, [reading("Yield", "100"), reading("Rp0.2", "291")])])).toEqual(["pass"]);
    const rp1 = appliedLimit({ quantity: "Rp1.0", min: "210" });
    expect(outcomesOf([judged(rp1, [reading("Yield", "291")])])).toEqual(["undetermined not-reported"]);
  });
});

describe("a like quantity, which is never converted", () => {
  it.each<[Quantity, Quantity, string]>([
    ["A50", "A", "undetermined gauge-length-unknown"],
    ["A", "A80", "undetermined gauge-length-unknown"],
    ["HBW", "HRB", "undetermined not-comparable"],
    ["HRC", "Hardness", "undetermined not-comparable"],
    ["Rp0.2", "Rp1.0", "undetermined not-comparable"],
    ["Rp0.2", "Rt0.5", "undetermined not-comparable"],
    ["Rp0.2", "ReH", "undetermined not-comparable"],
    ["Rp0.2", "ReL", "undetermined not-comparable"],
    ["Rp1.0", "Rp0.2", "undetermined not-comparable"],
    ["ReH", "ReL", "undetermined not-comparable"],
    ["ReH", "Rp0.2", "undetermined not-comparable"],
    ["ReH", "Rt0.5", "undetermined not-comparable"],
    ["ReH", "Rm", "undetermined not-reported"],
    ["Rm", "Rp0.2", "undetermined not-reported"],
    ["Z", "A", "undetermined not-reported"],
  ])("%s wanted, %s reported: %s", (wanted, reported, outcome) => {
    const applied = appliedLimit({ quantity: wanted, min: "20" });
    const finding = judged(applied, [reading(reported, `30 ${reportUnit(reported)}`)]);
    expect(outcomesOf([finding])).toEqual([outcome]);
    if (outcome !== "undetermined not-reported") {
      expect(finding.says).toMatchObject({ reported, wanted });
      expect(finding.readings).toHaveLength(1);
    }
  });
});

describe("several tests of one heat", () => {
  it("must all pass: the finding is the worst one's and rests on all", () => {
    const finding = judged(strength, [reading("Rm", "500"), reading("Rm", "480"), reading("Rm", "470")]);
    expect(finding).toMatchObject({ outcome: "fail", judged: { digits: 470n }, margin: { digits: -15n } });
    expect(finding.readings.map(({ id }) => id)).toEqual([3, 1, 2]);
  });

  it("shows the one nearest to the limit where all pass", () => {
    const finding = judged(strength, [reading("Rm", "520"), reading("Rm", "490"), reading("Rm", "500")]);
    expect(finding).toMatchObject({ outcome: "pass", judged: { digits: 490n }, margin: { digits: 5n } });
  });

  it("are undetermined where one of them is, and none fails", () => {
    const doubtful = reading("Rm", "500", { confidence: 0.5 });
    expect(outcomesOf([judged(strength, [reading("Rm", "500"), doubtful])])).toEqual(["undetermined low-confidence"]);
    expect(outcomesOf([judged(strength, [reading("Rm", "480"), doubtful])])).toEqual(["fail"]);
  });
});

describe("a measured Ferrite Number", () => {
  const ferrite = appliedLimit({ quantity: "FN", min: "3", max: "8" });
  it.each([
    ["3", "pass"],
    ["2", "fail"],
    ["8", "pass"],
    ["9", "fail"],
  ])("%s decides without any chemistry: %s", (text, outcome) => {
    expect(outcomesOf([judged(ferrite, [reading("FN", text)])])).toEqual([outcome]);
  });

  it("computed, needs the chemistry", () => {
    expect(outcomesOf([judged(ferrite, [])])).toEqual(["undetermined not-reported"]);
  });
});

it("asks only for a report where the standard sets no bound", () => {
  const reported = appliedLimit({ quantity: "HBW", reportOnly: true });
  expect(judged(reported, [reading("HBW", "171")])).toMatchObject({
    outcome: "pass",
    says: { code: "reported" },
    readings: [{ id: 1 }],
  });
  expect(outcomesOf([judged(reported, [])])).toEqual(["undetermined not-reported"]);
});

describe("a retest", () => {
  const tensile = appliedLimit({ quantity: "Rm", min: "485" });
  const test = (text: string, retest = false) => reading("Rm", text, { ...(retest && { retest }) });
  it.each([
    [[test("484"), test("485", true)], "undetermined retest-needed"],
    [[test("484"), test("484", true)], "fail"],
    [[test("485"), test("484", true)], "fail"],
    [[test("485"), test("486", true)], "pass"],
    [[test("486", true)], "undetermined retest-needed"],
    [[test("484"), test("485", true), test("484", true)], "fail"],
  ])("case %#: %s", (readings, outcome) => {
    expect(outcomesOf(judgeLimit(tensile, evidenceOf(readings)))).toEqual([outcome]);
    expect(outcomesOf(judgeLimit(tensile, evidenceOf([...readings].reverse())))).toEqual([outcome]);
  });
});

describe("a value in the unit system that the limit is not printed in", () => {
  // 125 ksi is 861.8 MPa. A standard that prints both says 860 MPa; here only the ksi are held.
  const tensile = appliedLimit({ quantity: "Rm", min: "125", unit: "ksi" });
  it.each([
    ["858 MPa", "fail"], // 124.4 ksi
    ["859 MPa", "undetermined not-comparable"], // 124.6 ksi, 125 if rounded
    ["861 MPa", "undetermined not-comparable"],
    ["862 MPa", "pass"],
    ["125 ksi", "pass"],
    ["124.5 ksi", "fail"], // half to even: 124
    ["124.6 ksi", "pass"],
  ])("%s against 125 ksi: %s", (text, outcome) => {
    expect(outcomesOf(judgeLimit(tensile, evidenceOf([reading("Rm", text)])))).toEqual([outcome]);
  });
});

describe("a test made otherwise", () => {
  it("is named where none answers the limit", () => {
    const cold = reading("Rm", "1400", { temperature: { value: { digits: -196n, places: 0 }, unit: "°C" } });
    const [judgement] = judgeLimit(appliedLimit({ quantity: "Rm", min: "485" }), evidenceOf([cold]));
    expect([judgement?.reason, judgement?.says]).toEqual([
      "not-reported",
      { code: "only-elsewhere", where: "tested at -196 °C" },
    ]);
  });
});
