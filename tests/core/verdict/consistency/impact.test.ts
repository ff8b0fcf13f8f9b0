import { describe, expect, it } from "vitest";
import { averageContradictions, shareContradictions } from "../../../../core/verdict/consistency/impact.js";
import { impactSet, reading } from "../../../support/heat.js";
import { numbered, sayings } from "./saying.js";

const said = (singles: readonly string[], average: string) =>
  sayings(averageContradictions(numbered(impactSet(singles, { average }))));

describe("a stated average", () => {
  // The mean is 63.333…; any way of rounding to the printed places is let through, and nothing else.
  it.each([
    ["63", 0],
    ["64", 0],
    ["62", 1],
    ["65", 1],
    ["63.3", 0],
    ["63.4", 0],
    ["63.2", 1],
    ["63.24", 1],
    ["63.33", 0],
  ])("%s of 61, 65, 64: %i", (average, count) => {
    expect(said(["61", "65", "64"], average)).toHaveLength(count);
  });

  it("one unit off is already off where the mean is exact", () => {
    expect([said(["60", "60", "60"], "60"), said(["60", "60", "60"], "61").length]).toEqual([[], 1]);
  });

  it("says what the pieces average", () => {
    expect(said(["61", "65", "64"], "66")).toEqual([
      "the stated average 66 does not follow from 61, 65, 64, which average 63.3",
    ]);
  });

  it("is not held to pieces of a retest, of another document or in another unit", () => {
    const average = impactSet([], { average: "90" });
    const elsewhere = { document: 1, line: 3, column: 2 } as const;
    for (const more of [{ retest: true }, { test: "other" }, { evidence: elsewhere }]) {
      expect(averageContradictions(numbered([...average, ...impactSet(["61", "65", "64"], more)]))).toEqual([]);
    }
    expect(averageContradictions(numbered([...average, ...impactSet(["45 ft.lbf", "48 ft.lbf"])]))).toEqual([]);
  });

  it("is held to two pieces, which is all that some reports print", () => {
    expect([said(["61", "65"], "63"), said(["61", "65"], "66").length]).toEqual([[], 1]);
  });

  it("is not held where it is a bound, or belongs to no test, or to pieces of another quantity", () => {
    const singles = impactSet(["61", "65", "64"]);
    const averages = impactSet([], { average: "90" });
    const nameless = [...singles, ...averages].map(({ test: _, ...piece }) => piece);
    expect(said(["61", "65", "64"], ">90")).toEqual([]);
    expect(averageContradictions(numbered(nameless))).toEqual([]);
    const perArea = singles.map((piece) => ({ ...piece, quantity: "KCV" as const }));
    expect(averageContradictions(numbered([...perArea, ...averages]))).toEqual([]);
  });

  it("of one piece or of bounds is left alone", () => {
    expect([said(["61"], "90"), said([">61", ">65", ">64"], "90")]).toEqual([[], []]);
  });
});

describe("a share of the whole", () => {
  it.each([
    ["Z", "99.9", 0],
    ["Z", "100", 0],
    ["Z", "100.1", 1],
    ["SFA", "100", 0],
    ["SFA", "101", 1],
    ["A50", "101", 0],
  ] as const)("%s %s: %i", (quantity, value, count) => {
    expect(shareContradictions(numbered([reading(quantity, value)]))).toHaveLength(count);
  });
});
