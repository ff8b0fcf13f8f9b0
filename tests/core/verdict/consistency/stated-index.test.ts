import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../core/certificate/certificate.js";
import { statedIndexContradictions } from "../../../../core/verdict/consistency/stated-index.js";
import { clean304L, reading } from "../../../support/heat.js";
import { numbered, sayings } from "./saying.js";

const said = (readings: readonly Reading[]) => sayings(statedIndexContradictions(numbered(readings)));

/** CE (IIW) = 0.17 + 1.38/6 + (0.04 + 0.01 + 0.01)/5 + (0.05 + 0.08)/15 = 0.4207; rounding hides up to 0.0095 + one unit stated. */
const carbonSteel = [
  reading("C", "0.17"),
  reading("Mn", "1.38"),
  reading("Cr", "0.04"),
  reading("Mo", "0.01"),
  reading("V", "0.01"),
  reading("Ni", "0.05"),
  reading("Cu", "0.08"),
];

describe("a stated carbon equivalent", () => {
  it.each([
    ["0.42", 0],
    ["0.44", 0],
    ["0.45", 1],
    ["0.41", 0],
    ["0.40", 1],
    ["0.421", 0],
    ["0.431", 0],
    ["0.432", 1],
    ["0.411", 0],
    ["0.410", 1],
  ])("%s on 0.4207 ± 0.0095: %i", (CE, count) => {
    expect(said([...carbonSteel, reading("CE", CE)])).toHaveLength(count);
  });

  it("says what the elements give, and rests on them", () => {
    const [judgement] = statedIndexContradictions(numbered([...carbonSteel, reading("CE", "0.50")]));
    expect(sayings([judgement!])[0]).toMatch(
      /^the stated CE 0.50 does not follow from the elements, which give 0.421 /,
    );
    expect(judgement?.readings.map(({ quantity }) => quantity)).toEqual(["CE", "C", "Mn", "Cr", "Mo", "V", "Ni", "Cu"]);
  });

  it("is not questioned where an element is missing or the index is a bound", () => {
    expect(said([...carbonSteel.slice(1), reading("CE", "0.90")])).toEqual([]);
    expect(said([...carbonSteel, reading("CE", "<0.50")])).toEqual([]);
  });
});

describe("every kind of carbon equivalent", () => {
  const complete = [...carbonSteel, reading("Si", "0.30"), reading("B", "0.0001"), reading("Nb", "0.001")];
  it.each(["CE", "Pcm", "CET", "CEN", "PREN"] as const)("%s 9.99 does not follow", (quantity) => {
    expect(said([...complete, reading("N", "0.005"), reading(quantity, "9.99")])).toHaveLength(1);
  });

  it("rests on its operands alone, by arithmetic", () => {
    // CET = C + (Mn + Mo)/10 + (Cr + Cu)/20 + Ni/40 = 0.17 + 0.139 + 0.006 + 0.00125 = 0.31625
    const [judgement] = statedIndexContradictions(numbered([...complete, reading("CET", "0.40")]));
    expect(sayings([judgement!])[0]).toContain(
      "the stated CET 0.40 does not follow from the elements, which give 0.316 ",
    );
    expect(judgement?.readings.map(({ quantity }) => quantity)).toEqual(["CET", "C", "Mn", "Cr", "Mo", "Ni", "Cu"]);
    expect(judgement?.source.clause).toBe("arithmetic of the formula");
  });
});

describe("a stated PREN", () => {
  // Cr 18.21 + 3.3 × Mo 0.30 + 16, 20 or 30 × N 0.062 = 20.192, 20.440, 21.060.
  const withMolybdenum = [...clean304L(), reading("Mo", "0.30")];
  it.each([
    ["20.2", 0],
    ["20.4", 0],
    ["21.1", 0],
    ["20.0", 1],
    ["21.3", 1],
  ])("%s follows by any of the factors of nitrogen: %i", (PREN, count) => {
    expect(said([...withMolybdenum, reading("PREN", PREN)])).toHaveLength(count);
  });

  it("names what each of the factors gives", () => {
    expect(said([...withMolybdenum, reading("PREN", "25.0")])[0]).toMatch(
      /^the stated PREN 25.0 does not follow from the elements, which give 20[.]192 .* or 20[.]440 .* or 21[.]060 /,
    );
  });

  it("says from where on it could lie where molybdenum is not reported", () => {
    // 18.21 + 16 × 0.062 = 19.202, less half a unit of the last place of each: 0.005 + 16 × 0.0005.
    expect(said([...clean304L(), reading("PREN", "18.0")])[0]).toContain("which give 19.189 or more or ");
  });

  it("may lie anywhere above what is reported where molybdenum is not", () => {
    expect([
      said([...clean304L(), reading("PREN", "24")]),
      said([...clean304L(), reading("PREN", "18.0")]).length,
    ]).toEqual([[], 1]);
  });
});

describe("a stated Ferrite Number", () => {
  const weld = ["C 0.025", "Cr 19.8", "Ni 10.0", "Mo 0.1", "N 0.05", "Cu 0.1", "Nb 0.01"].map((text) => {
    const [quantity, value] = text.split(" ") as ["C", string];
    return reading(quantity, value, { zone: "weld" });
  });
  const stated = (FN: string, zone: "weld" | "base" = "weld") => said([...weld, reading("FN", FN, { zone })]);

  it("near what the diagram gives may have been measured", () => {
    const given = /give ([\d.]+) \(([\d.]+) to ([\d.]+)\)/.exec(stated("60")[0] ?? "");
    const [, , low, high] = given!.map(Number);
    const at = (value: number) => stated(value.toFixed(1)).length;
    // One unit of the stated place and 2 FN beyond the formula's own range.
    expect([at(low! - 2), at(low! - 2.3), at(high! + 2), at(high! + 2.3)]).toEqual([0, 1, 0, 1]);
  });

  it("rests on the diagram, and on practice where it was measured apart", () => {
    const [judgement] = statedIndexContradictions(numbered([...weld, reading("FN", "60", { zone: "weld" })]));
    expect(judgement?.source.clause).toBe("WRC-1992; common practice, no source");
  });

  it("of another zone is not held to the weld's chemistry", () => {
    expect(stated("60", "base")).toEqual([]);
  });
});
