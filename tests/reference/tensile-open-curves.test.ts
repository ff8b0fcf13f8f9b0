import { describe, expect, test } from "vitest";
import type { Quantity } from "../../core/quantity/quantity.js";
import type { TensileRecord } from "../../core/reduction/tensile/record.js";
import { reduceRecord } from "../../core/reduction/tensile/reduce-record.js";
import type { TensileReduction } from "../../core/reduction/tensile/reduction.js";
import { printResult } from "../../core/reduction/tensile/round-result.js";
import { readTensileRecords } from "../../core/reduction/tensile/tensile-record.js";
import { dataFile, tableOf } from "./table-of.js";

// Sources and licences: data/README.md. Each published value is compared with the one reduced from the delivered curve.

function read(file: string, delimiter: string): TensileRecord {
  const [record] = readTensileRecords(tableOf(dataFile(file), delimiter));
  if (!record) throw new Error(`${file} was not recognised as a tensile record`);
  return record;
}

function resultOf(reduction: TensileReduction, quantity: Quantity): number {
  return reduction.results.find((result) => result.quantity === quantity)?.value ?? Number.NaN;
}

function codes(reduction: TensileReduction): string[] {
  return reduction.doubts.map(({ code }) => code);
}

describe("42CrMoS4, quenched and tempered, results published in each file", () => {
  // Rm and Z leave no choice but arithmetic. The others depend on the window of the slope, which the publishers do not state:
  // their slope differs from that between 10 and 40 % of Rm by up to 5 % over all 67 curves, which moves Rp0.2 by up to 3.2 MPa
  // (0.3 %), Rp1.0 by 1 MPa, Ag by 0.025 and A by 0.016 points.
  const tolerances = { Rm: 0.01, "Rp0.2": 3.5, "Rp1.0": 1, Ag: 0.03, A: 0.02, Z: 0.01 } as const;
  const published = JSON.parse(dataFile("tensile-42crmos4/published-results-67.json"));

  for (const id of ["46NT71", "46NT73", "46NT9D", "46NTAB"]) {
    test(`curve ${id}`, () => {
      const reduction = reduceRecord(read(`tensile-42crmos4/${id}.tsv`, "\t"));
      const expected = published[id];
      const stated = {
        Rm: expected.Rm_MPa,
        "Rp0.2": expected.Rp02_MPa,
        "Rp1.0": expected.Rp1_MPa,
        Ag: expected.Ag_pct,
        A: expected.A_pct,
        Z: expected.Z_pct,
      };
      for (const [quantity, tolerance] of Object.entries(tolerances)) {
        const difference = Math.abs(
          resultOf(reduction, quantity as Quantity) - stated[quantity as keyof typeof stated],
        );
        expect(difference, `${quantity} of ${id}`).toBeLessThanOrEqual(tolerance);
      }
      expect(Math.abs((resultOf(reduction, "E") * 1000) / expected.slope_MPa - 1)).toBeLessThanOrEqual(0.055);
      // Nothing to doubt: in particular the stated results in the header agree with the curve.
      expect(codes(reduction)).toEqual([]);
    });
  }

  test("the header lines are read: piece, sizes, stated results", () => {
    const { specimen, stated } = read("tensile-42crmos4/46NT71.tsv", "\t");
    expect(specimen.id?.value).toBe("46NT71");
    expect(specimen.heat).toBeUndefined(); // "Heat treatment batch" is no heat
    expect(specimen.diameterMm?.value).toBe(5.003);
    expect(specimen.gaugeLengthMm?.value).toBe(25);
    expect(specimen.areaMm2).toMatchObject({ value: 19.6585230984216, place: { line: 8, column: 2 } });
    expect(stated.map(({ quantity }) => quantity)).toEqual(["Rp0.2", "Rp1.0", "Rm", "Ag", "Elongation", "Z", "E"]);
  });

  test("a stated result that the curve does not bear out is doubted", () => {
    const text = dataFile("tensile-42crmos4/46NT71.tsv").replace("1132.3284914867481", "1182.3284914867481");
    const reduction = reduceRecord(readTensileRecords(tableOf(text, "\t"))[0]!);
    expect(reduction.doubts).toHaveLength(1);
    expect(reduction.doubts[0]).toMatchObject({ code: "stated-result-differs", affects: ["Rp0.2"] });
  });
});

describe("S355 sheet, published rounded by ISO 6892-1; force only, section given beside the curve", () => {
  const published = JSON.parse(dataFile("tensile-s355/published-results.json"));

  function reduceSheet(id: string): TensileReduction {
    const record = read(`tensile-s355/${id}.csv`, ";");
    const noted = (value: number) => ({ value, printed: String(value) });
    const { S0_mm2, Le_mm, L0_mm, Lu_mm, Su_mm2 } = published[id];
    return reduceRecord({
      ...record,
      specimen: {
        areaMm2: noted(S0_mm2),
        extensometerLengthMm: noted(Le_mm),
        gaugeLengthMm: noted(L0_mm),
        ...(Lu_mm && { finalLengthMm: noted(Lu_mm) }),
        finalAreaMm2: noted(Su_mm2),
      },
    });
  }

  // ReH is read off to 1 MPa; Rp0.2 lies on the yield plateau, where a window of the slope moves it by about 1 MPa; the published
  // slope is known to no better than the choice of window, 2 %.
  for (const id of ["Zx1", "Zx3"]) {
    test(`curve ${id}`, () => {
      const reduction = reduceSheet(id);
      expect(Math.abs(resultOf(reduction, "ReH") - published[id].ReH_MPa)).toBeLessThanOrEqual(1);
      expect(Math.abs(resultOf(reduction, "Rp0.2") - published[id].Rp02_MPa)).toBeLessThanOrEqual(1.5);
      expect(Math.abs(resultOf(reduction, "E") / published[id].E_GPa - 1)).toBeLessThanOrEqual(0.02);
      expect(printResult("Rm", resultOf(reduction, "Rm")).rounded).toBe(String(published[id].Rm_MPa));
      expect(printResult("Z", resultOf(reduction, "Z")).rounded).toBe(String(published[id].Z_pct));
      expect(codes(reduction)).toEqual(["extensometer-ended"]);
      expect(resultOf(reduction, "Ag")).toBeNaN(); // Rm lies beyond the extensometer
    });
  }

  test("elongation from the fitted halves of Zx3", () => {
    expect(printResult("A", resultOf(reduceSheet("Zx3"), "A")).rounded).toBe(published.Zx3.A_pct.toFixed(1));
  });

  test("the bad start of Zd3 is seen: slope doubted, modulus held back, yield stress unharmed", () => {
    const reduction = reduceSheet("Zd3");
    const slope = reduction.doubts.find(({ code }) => code === "slope-outside-range");
    expect(slope?.affects).toEqual(["E"]);
    expect(codes(reduction)).toContain("strain-steps-back");
    expect(Math.abs(resultOf(reduction, "ReH") - published.Zd3.ReH_MPa)).toBeLessThanOrEqual(1);
    expect(printResult("Rm", resultOf(reduction, "Rm")).rounded).toBe("511");
    // Its own Lu gives 33.28 %, which rounds to 33.5; the published 33.0 does not follow from it.
    expect(printResult("A", resultOf(reduction, "A")).rounded).toBe("33.5");
  });

  test("without a section nothing is computed from force alone, and that is said", () => {
    const reduction = reduceRecord(read("tensile-s355/Zx1.csv", ";"));
    expect(reduction.results).toEqual([]);
    expect(codes(reduction)).toEqual(["section-missing"]);
  });
});

describe("raw machine exports", () => {
  test("St1594: published Rm and toughness, proof strength within the choice of window", () => {
    const reduction = reduceRecord(read("tensile-machine-csv/St1594.csv", ","));
    expect(resultOf(reduction, "Rm")).toBeCloseTo(497.0183, 3);
    expect(resultOf(reduction, "toughness")).toBeCloseTo(176.4531, 3);
    // Published 327.8 with a line through the origin; 1 % covers what the window does to a slope of few samples.
    expect(Math.abs(resultOf(reduction, "Rp0.2") / 327.8 - 1)).toBeLessThan(0.01);
    // Eight samples at 5 a second lie in the elastic window: the modulus is held back, the proof strength is not moved by it.
    expect(reduction.doubts.find(({ code }) => code === "slope-uncertain")?.affects).toEqual(["E"]);
    // Final length and section were never filled in: no elongation or reduction of area is made of them.
    expect(codes(reduction)).toContain("final-length-not-measured");
    expect(codes(reduction)).toContain("final-section-not-measured");
    expect(resultOf(reduction, "Z")).toBeNaN();
  });

  test("St1595: four samples in the elastic window are too few for a proof strength that decides", () => {
    const reduction = reduceRecord(read("tensile-machine-csv/St1595.csv", ","));
    const slope = reduction.doubts.find(({ code }) => code === "slope-uncertain");
    expect(slope?.affects).toContain("Rp0.2");
  });

  test("Al5005: strain steps back, the slope is no steel's, and stress and section disagree", () => {
    const reduction = reduceRecord(read("tensile-machine-csv/Al5005.csv", ","));
    expect(codes(reduction)).toEqual(
      expect.arrayContaining(["strain-steps-back", "units-suspect", "stress-contradicts-force"]),
    );
  });
});
