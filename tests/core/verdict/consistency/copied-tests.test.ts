import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../core/certificate/certificate.js";
import { acrossHeatsContradictions } from "../../../../core/verdict/consistency/across-heats.js";
import { impactSet, reading } from "../../../support/heat.js";
import { numbered, sayings } from "./saying.js";

function said(first: readonly Reading[], second: readonly Reading[]) {
  const heats = [first, second].map((readings, index) => ({ heat: `H${index + 1}`, readings: numbered(readings) }));
  return heats.map(({ heat }) => sayings(acrossHeatsContradictions(heats).get(heat) ?? []));
}

const tensile = (Rm: string, Rp: string, A: string) => [reading("Rm", Rm), reading("Rp0.2", Rp), reading("A50", A)];

describe("test results of two heats that are the same", () => {
  it("are said of both, each with its own readings", () => {
    expect(said(tensile("604", "291", "54"), tensile("604", "291", "54"))).toEqual([
      ["the results Rm 604, Rp0.2 291, A50 54 are the same as those of heat H2"],
      ["the results Rm 604, Rp0.2 291, A50 54 are the same as those of heat H1"],
    ]);
  });

  it.each<[string, Reading[], Reading[], number]>([
    ["one value one digit apart", tensile("604", "291", "54"), tensile("604", "291", "55"), 0],
    ["printed with another number of digits", tensile("604", "291", "54"), tensile("604", "291", "54.0"), 0],
    ["only two values", tensile("604", "291", "54").slice(0, 2), tensile("604", "291", "54").slice(0, 2), 0],
    ["three values of which two are alike", impactSet(["61", "61", "65"]), impactSet(["61", "61", "65"]), 0],
    ["three singles", impactSet(["61", "63", "65"]), impactSet(["61", "63", "65"]), 1],
    ["three singles in another order", impactSet(["61", "63", "65"]), impactSet(["65", "61", "63"]), 1],
    ["in another unit", impactSet(["61", "63", "65"]), impactSet(["61 ft.lbf", "63 ft.lbf", "65 ft.lbf"]), 0],
    ["of another zone", impactSet(["61", "63", "65"]), impactSet(["61", "63", "65"], { zone: "weld" }), 0],
  ])("%s", (_, first, second, count) => {
    expect(said(first, second).map((texts) => texts.length)).toEqual([count, count]);
  });

  it.each<[string, Reading[]]>([
    ["proof strengths", [reading("Rp0.2", "291"), reading("Rp1.0", "331"), reading("Rm", "604")]],
    ["yield points", [reading("ReH", "371"), reading("Rm", "504"), reading("A", "28")]],
    ["unstated kinds", [reading("Yield", "371"), reading("Rm", "504"), reading("Elongation", "28")]],
    ["sheet", [reading("Rp0.2", "291"), reading("Rm", "604"), reading("A80", "51")]],
    ["a reduction of area", [reading("Rp0.2", "291"), reading("Rm", "604"), reading("Z", "71")]],
    ["energy per area", ["61", "63", "65"].map((text) => reading("KCV", text))],
    ["lateral expansion", ["0.61", "0.63", "0.65"].map((text) => reading("LE", text))],
    ["weld metal", impactSet(["61", "63", "65"], { zone: "weld" })],
    ["tests that have no name", impactSet(["61", "63", "65"]).map(({ test: _, ...piece }) => piece)],
  ])("of every kind: %s", (_, readings) => {
    expect(said(readings, readings).map((texts) => texts.length)).toEqual([1, 1]);
  });

  it.each<[string, Reading[]]>([
    ["of hardness", ["171", "173", "175"].map((text) => reading("HBW", text))],
    ["of which the third is their mean", impactSet(["61", "65"], { average: "63" })],
    ["of two tests", [...impactSet(["61", "63"]), ...impactSet(["65"], { test: "impact 2" })]],
    ["of two zones", [...impactSet(["61", "63"], { zone: "weld" }), ...impactSet(["65"], { zone: "haz" })]],
    ["of two quantities", [...impactSet(["61", "63"]), reading("LE", "0.61", { test: "impact 1" })]],
    [
      "of two documents",
      [...impactSet(["61", "63"]), ...impactSet(["65"], { evidence: { document: 1, line: 3, column: 2 } })],
    ],
  ])("are not told by three values %s", (_, readings) => {
    expect(said(readings, readings)).toEqual([[], []]);
  });

  it("are compared row by row of a document that lists several tests", () => {
    const rows = [...impactSet(["61", "63", "65"], { test: "1" }), ...impactSet(["71", "73", "75"], { test: "2" })];
    expect(said(rows, impactSet(["71", "73", "75"], { test: "9" }))).toEqual([
      ["the results KV 71, KV 73, KV 75 are the same as those of heat H2"],
      ["the results KV 71, KV 73, KV 75 are the same as those of heat H1"],
    ]);
  });

  it("are no matter within one heat", () => {
    const twice = [...impactSet(["61", "63", "65"]), ...impactSet(["61", "63", "65"], { test: "impact 2" })];
    expect(said(twice, [])).toEqual([[], []]);
  });
});
