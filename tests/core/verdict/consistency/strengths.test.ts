import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../core/certificate/certificate.js";
import { parseMeasure } from "../../../../core/requirement/parse-measure.js";
import { strengthContradictions } from "../../../../core/verdict/consistency/strengths.js";
import { reading } from "../../../support/heat.js";
import { numbered, sayings } from "./saying.js";

const ELSEWHERE = { document: 1, line: 3, column: 2 } as const;
const at = (text: string) => ({ temperature: parseMeasure(text, "temperature")! });
const said = (readings: readonly Reading[]) => sayings(strengthContradictions(numbered(readings)));

describe("a strength that cannot lie above another of the same test", () => {
  it.each<[string, Reading[], number]>([
    ["Rp0.2 just below Rm", [reading("Rp0.2", "603"), reading("Rm", "604")], 0],
    ["Rp0.2 on Rm", [reading("Rp0.2", "604"), reading("Rm", "604.0")], 0],
    ["Rp0.2 just above Rm", [reading("Rp0.2", "604.1"), reading("Rm", "604")], 1],
    ["in other units, just below", [reading("Rp0.2", "87.0 ksi"), reading("Rm", "600")], 0],
    ["in other units, just above", [reading("Rp0.2", "87.1 ksi"), reading("Rm", "600")], 1],
    ["Rp0.2 above Rp1.0", [reading("Rp0.2", "341"), reading("Rp1.0", "340")], 1],
    ["Rp1.0 above Rm", [reading("Rp1.0", "605"), reading("Rm", "604")], 1],
    ["Rt0.5 above Rm", [reading("Rt0.5", "605"), reading("Rm", "604")], 1],
    ["a yield strength of unstated kind above Rm", [reading("Yield", "605"), reading("Rm", "604")], 1],
    ["a bound on the upper one decides nothing either", [reading("Rp0.2", "610"), reading("Rm", "<604")], 0],
    ["a unit that is no strength", [reading("Rp0.2", "610 J"), reading("Rm", "604")], 0],
    ["a unit that is no strength, above", [reading("Rp0.2", "610"), reading("Rm", "604 J")], 0],
    ["another document", [reading("Rp0.2", "610", { evidence: ELSEWHERE }), reading("Rm", "604")], 0],
    ["both cold", [reading("Rp0.2", "610", at("-196 °C")), reading("Rm", "604", at("-196 °C"))], 1],
    ["one cold", [reading("Rp0.2", "610", at("-196 °C")), reading("Rm", "604")], 0],
    ["the other cold", [reading("Rp0.2", "610"), reading("Rm", "604", at("-196 °C"))], 0],
    ["at two temperatures", [reading("Rp0.2", "610", at("-196 °C")), reading("Rm", "604", at("20 °C"))], 0],
    ["at two temperatures of one number", [reading("Rp0.2", "610", at("20 °C")), reading("Rm", "604", at("20 K"))], 0],
    ["ReL above ReH", [reading("ReL", "371"), reading("ReH", "370")], 1],
    ["ReH above Rm, which a marked yield point allows", [reading("ReH", "610"), reading("Rm", "604")], 0],
    ["a bound decides nothing", [reading("Rp0.2", ">610"), reading("Rm", "604")], 0],
    [
      "another test",
      [
        reading("Rp0.2", "610", { test: "T1" }),
        reading("Rm", "604", { test: "T2" }),
        reading("Rm", "700", { test: "T1" }),
      ],
      0,
    ],
    ["another zone", [reading("Rp0.2", "610", { zone: "weld" }), reading("Rm", "604")], 0],
    ["another direction", [reading("Rp0.2", "610", { orientation: "transverse" }), reading("Rm", "604")], 0],
  ])("%s", (_, readings, count) => {
    expect(said(readings)).toHaveLength(count);
  });

  it("names both values and rests on both readings", () => {
    const [judgement] = strengthContradictions(numbered([reading("Rm", "604"), reading("Rp0.2", "610")]));
    expect(sayings([judgement!])).toEqual(["Rp0.2 610 MPa is above Rm 604 MPa of the same test"]);
    expect(judgement?.readings.map(({ id }) => id)).toEqual([2, 1]);
    expect(judgement?.source.clause).toContain("ISO 6892-1");
  });
});
