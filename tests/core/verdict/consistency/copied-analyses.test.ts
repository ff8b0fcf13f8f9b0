import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../core/certificate/certificate.js";
import type { Quantity } from "../../../../core/quantity/quantity.js";
import { acrossHeatsContradictions } from "../../../../core/verdict/consistency/across-heats.js";
import { reading } from "../../../support/heat.js";
import { numbered, sayings } from "./saying.js";

/** Six elements with two digits or more, and sulphur with one. */
const ROW = { C: "0.021", Si: "0.41", Mn: "1.62", P: "0.031", S: "0.002", Cr: "18.21", Ni: "8.12" } as const;

const row = (changes: Partial<Record<Quantity, string>> = {}, more: Partial<Reading> = {}) =>
  Object.entries({ ...ROW, ...changes }).map(([quantity, text]) => reading(quantity as Quantity, text, more));

const ELSEWHERE = { document: 1, line: 3, column: 2 } as const;

/** One row whose halves stand apart. */
const halves = (first: Partial<Reading>, second: Partial<Reading>) =>
  row().map((item, index) => ({ ...item, ...(index < 4 ? first : second) }));

function said(...heats: readonly (readonly Reading[])[]) {
  const named = heats.map((readings, index) => ({ heat: `H${index + 1}`, readings: numbered(readings) }));
  const across = acrossHeatsContradictions(named);
  return named.map(({ heat }) => sayings(across.get(heat) ?? []));
}

describe("heat analyses of two heats that are the same", () => {
  it("are said of both, each with its own row", () => {
    const values = "C 0.021, Si 0.41, Mn 1.62, P 0.031, S 0.002, Cr 18.21, Ni 8.12";
    expect(said(row(), row())).toEqual([
      [`the analysis ${values} is the same as that of heat H2`],
      [`the analysis ${values} is the same as that of heat H1`],
    ]);
  });

  it.each<[string, Reading[], Reading[], number]>([
    ["in another order of columns", row(), row().reverse(), 1],
    ["one element one digit apart", row(), row({ Ni: "8.13" }), 0],
    ["the element of one digit apart", row(), row({ S: "0.003" }), 0],
    ["five telling elements", row({ Ni: "8" }), row({ Ni: "8" }), 0],
    ["one of the six a bound", row({ P: "<0.031" }), row({ P: "<0.031" }), 0],
    ["one row with an element more", row(), row({ Mo: "0.20" }), 0],
    ["one element of exactly two digits", row({ Ni: "10" }), row({ Ni: "10" }), 1],
    ["a bound beside the six", [...row(), reading("Mo", "<0.01")], [...row(), reading("Mo", "<0.01")], 1],
    ["a bound and a value of one number", [...row(), reading("Mo", "<0.01")], [...row(), reading("Mo", "0.01")], 0],
    ["six in two rows", halves({ test: "1" }, { test: "2" }), halves({ test: "1" }, { test: "2" }), 0],
    ["six in two documents", halves({}, { evidence: ELSEWHERE }), halves({}, { evidence: ELSEWHERE }), 0],
    ["rows of other names", row({}, { test: "1" }), row({}, { test: "2" }), 1],
    ["the second of two rows", [...row({ Ni: "8.13" }, { test: "1" }), ...row({}, { test: "2" })], row(), 1],
    ["product analyses", row({}, { analysis: "product" }), row({}, { analysis: "product" }), 0],
    ["weld metal of one batch of wire", row({}, { zone: "weld" }), row({}, { zone: "weld" }), 0],
  ])("%s", (_, first, second, count) => {
    expect(said(first, second).map((texts) => texts.length)).toEqual([count, count]);
  });

  it("name all the others", () => {
    expect(said(row(), row(), row())[1]?.[0]).toContain("heat H1, H3");
  });

  it("name ten others and count the rest", () => {
    const alike = said(...Array.from({ length: 13 }, () => row()));
    expect(alike[0]?.[0]).toMatch(/ heat H2, H3, H4, H5, H6, H7, H8, H9, H10, H11 and of 2 more$/);
    expect(alike[12]?.[0]).toMatch(/ heat H1, H2, H3, H4, H5, H6, H7, H8, H9, H10 and of 2 more$/);
    expect(said(...Array.from({ length: 11 }, () => row()))[5]?.[0]).toMatch(
      / heat H1, H2, H3, H4, H5, H7, H8, H9, H10, H11$/,
    );
  });
});

/**
 * Does chance make copied rows? A thousand invented heats of one mill that aims at one 304L: normal scatter about the aim, printed
 * as certificates do. The scatter (standard deviations) is common practice, no source.
 */
describe("a thousand heats of one mill", () => {
  const AIMS: readonly [Quantity, mean: number, deviation: number, places: number][] = [
    ["C", 0.021, 0.003, 3],
    ["Si", 0.42, 0.05, 2],
    ["Mn", 1.6, 0.08, 2],
    ["P", 0.031, 0.003, 3],
    ["S", 0.002, 0.001, 3],
    ["Cr", 18.2, 0.12, 2],
    ["Ni", 8.1, 0.05, 2],
  ];
  const heats = invented(1000);

  it("agree in no whole analysis of six telling elements", () => {
    expect(said(...heats).flat()).toEqual([]);
  });

  it("agree in four elements often, so that fewer would not do", () => {
    const four = heats.map((readings) =>
      readings
        .slice(0, 4)
        .map(({ printed }) => printed)
        .join(" "),
    );
    expect(new Set(four).size).toBeLessThan(heats.length - 5);
  });

  function invented(count: number): Reading[][] {
    let state = 20_260_309;
    const uniform = () => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return (state + 0.5) / 2 ** 32;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    return Array.from({ length: count }, () =>
      AIMS.map(([quantity, mean, deviation, places]) =>
        reading(quantity, Math.max(10 ** -places, mean + deviation * normal()).toFixed(places)),
      ),
    );
  }
});
