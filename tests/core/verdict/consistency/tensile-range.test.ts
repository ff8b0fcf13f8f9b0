import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../core/certificate/certificate.js";
import { tensileRangeContradictions } from "../../../../core/verdict/consistency/tensile-range.js";
import { reading } from "../../../support/heat.js";
import { numbered, sayings } from "./saying.js";

const said = (readings: readonly Reading[]) => sayings(tensileRangeContradictions(numbered(readings)));

describe("yield against tensile strength", () => {
  // 0.15 × 600 = 90; 0.99 × 600 = 594.
  it.each<[string, Reading[], number]>([
    ["just inside the least ratio", [reading("Rp0.2", "90.1"), reading("Rm", "600")], 0],
    ["on the least ratio", [reading("Rp0.2", "90"), reading("Rm", "600")], 0],
    ["just below the least ratio", [reading("Rp0.2", "89.9"), reading("Rm", "600")], 1],
    ["304 in liquid nitrogen", [reading("Rp0.2", "340"), reading("Rm", "1580")], 0],
    ["Rp1.0", [reading("Rp1.0", "80"), reading("Rm", "600")], 1],
    ["Rt0.5", [reading("Rt0.5", "80"), reading("Rm", "600")], 1],
    ["ReH", [reading("ReH", "80"), reading("Rm", "600")], 1],
    ["ReL", [reading("ReL", "80"), reading("Rm", "600")], 1],
    ["a tensile strength that is a bound", [reading("Rp0.2", "80"), reading("Rm", ">600")], 0],
    ["a unit that is no strength", [reading("Rp0.2", "80 J"), reading("Rm", "600")], 0],
    ["a hardness of 30 % is no stretching", [reading("Rp0.2", "600"), reading("Rm", "600"), reading("Z", "71")], 0],
    ["any kind of yield", [reading("Yield", "80"), reading("Rm", "600")], 1],
    ["hardly hardening, stretching 30 %", [reading("Rp0.2", "594"), reading("Rm", "600"), reading("A50", "30")], 1],
    ["just hardening", [reading("Rp0.2", "593.9"), reading("Rm", "600"), reading("A50", "30")], 0],
    ["just not stretching", [reading("Rp0.2", "594"), reading("Rm", "600"), reading("A50", "29.9")], 0],
    ["equal, as in drawn wire", [reading("Rp0.2", "1400"), reading("Rm", "1400"), reading("A50", "3")], 0],
    ["equal, stretching", [reading("Rp0.2", "600"), reading("Rm", "600"), reading("A", "54")], 1],
    ["above, which is said elsewhere", [reading("Rp0.2", "601"), reading("Rm", "600"), reading("A", "54")], 0],
    ["bounds", [reading("Rp0.2", "<80"), reading("Rm", "600"), reading("A", ">30")], 0],
    ["two tests", [reading("Rp0.2", "80", { test: "T1" }), reading("Rm", "600", { test: "T2" })], 0],
    ["in ksi against MPa", [reading("Rp0.2", "13 ksi"), reading("Rm", "600")], 1],
  ])("%s", (_, readings, count) => {
    expect(said(readings)).toHaveLength(count);
  });

  it("says which values leave no room, with the practice that it rests on", () => {
    const [judgement] = tensileRangeContradictions(
      numbered([reading("Rp0.2", "600"), reading("Rm", "600"), reading("A50", "54")]),
    );
    expect(sayings([judgement!])).toEqual([
      "Rp0.2 600 MPa and Rm 600 MPa of the same test leave no hardening to a metal that stretches by A50 54 %",
    ]);
    expect(judgement?.readings.map(({ id }) => id)).toEqual([1, 2, 3]);
    expect(judgement?.source.clause).toBe("common practice, no source");
  });
});
