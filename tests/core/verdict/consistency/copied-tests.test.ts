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

  it("are no matter within one heat", () => {
    const twice = [...impactSet(["61", "63", "65"]), ...impactSet(["61", "63", "65"], { test: "impact 2" })];
    expect(said(twice, [])).toEqual([[], []]);
  });
});
