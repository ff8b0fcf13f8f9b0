import { describe, expect, test } from "vitest";
import type { Quantity } from "../../core/quantity/quantity.js";
import type { Specimen, TensileColumns } from "../../core/reduction/tensile/record.js";
import { reduceRecord } from "../../core/reduction/tensile/reduce-record.js";
import type { TensileReduction } from "../../core/reduction/tensile/reduction.js";
import { AUSTENITIC, austeniticStress, normalNoise, recordOf } from "./synthetic-curve.js";

// One fault of a record each, in a curve that is exact by construction. What the fault spoils is doubted, what it leaves alone is
// right and decides: a doubt on everything would be easy, and of no use to a shop.

const SAMPLES = 3000;
const curve = sampled();

/** Slow to 2 %, then faster: half of the samples each, as closed-loop machines record. */
function sampled() {
  const half = SAMPLES / 2;
  const strain = Float64Array.from({ length: SAMPLES }, (_, i) =>
    i <= half ? (0.02 * i) / half : 0.02 + ((AUSTENITIC.fractureStrain - 0.02) * (i - half)) / (SAMPLES - 1 - half),
  );
  return { strain, stressMPa: strain.map(austeniticStress) };
}

type Change = (value: number, index: number) => number;
const same: Change = (value) => value;

function stress(change: Change): TensileColumns {
  return { ...curve, stressMPa: curve.stressMPa.map(change) };
}

function strain(change: Change): TensileColumns {
  return { ...curve, strain: curve.strain.map(change) };
}

function without(isLost: (strain: number, stressMPa: number) => boolean): TensileColumns {
  const keep = (_: number, i: number) => !isLost(curve.strain[i]!, curve.stressMPa[i]!);
  return { strain: curve.strain.filter(keep), stressMPa: curve.stressMPa.filter(keep) };
}

function isDoubted(reduction: TensileReduction, quantity: Quantity): boolean {
  const result = reduction.results.find((candidate) => candidate.quantity === quantity);
  return !result || result.doubtful !== undefined || reduction.doubts.some(({ affects }) => affects.includes(quantity));
}

function codes(reduction: TensileReduction): string[] {
  return reduction.doubts.map(({ code }) => code);
}

const RIGHT: Partial<Record<Quantity, number>> = {
  "Rp0.2": AUSTENITIC.proofMPa,
  Rm: AUSTENITIC.strengthMPa,
};

const noise = normalNoise(3);
const display = curve.stressMPa.map(() => 0.07 * noise());
const clippedAt = (share: number) =>
  stress((value, i) => Math.min(value, share * AUSTENITIC.strengthMPa) + display[i]!);
const slippedFrom = (stressMPa: number, by: number) =>
  strain((value, i) => (curve.stressMPa[i]! > stressMPa ? value + by : value));

interface Fault {
  readonly what: string;
  readonly record: TensileColumns;
  readonly specimen?: Specimen;
  readonly code?: string;
  readonly doubted: readonly Quantity[];
  readonly right: readonly Quantity[];
}

const FAULTS: readonly Fault[] = [
  { what: "none", record: stress(same), doubted: [], right: ["Rp0.2", "Rm", "Elongation"] },
  {
    what: "force clipped at 80 %, noise on top",
    record: clippedAt(0.8),
    code: "force-saturated",
    doubted: ["Rm"],
    right: [],
  },
  {
    what: "force clipped at 95 %, noise on top",
    record: clippedAt(0.95),
    code: "force-saturated",
    doubted: ["Rm"],
    right: [],
  },
  { what: "the same noise, nothing clipped", record: clippedAt(2), doubted: [], right: ["Rp0.2", "Rm"] },
  {
    what: "extensometer slips forward before yield",
    record: slippedFrom(150, 0.0005),
    code: "strain-jumps",
    doubted: ["Rp0.2"],
    right: ["Rm"],
  },
  {
    what: "extensometer slips back shortly before yield",
    record: slippedFrom(245, -0.0005),
    code: "strain-steps-back",
    doubted: ["Rp0.2"],
    right: ["Rm"],
  },
  {
    what: "extensometer slips forward by 1 % at 5 %",
    record: strain((e) => (e > 0.05 ? e + 0.01 : e)),
    code: "strain-jumps",
    doubted: ["Elongation"],
    right: ["Rp0.2", "Rm"],
  },
  {
    what: "one strain misread",
    record: strain((e, i) => (i === 800 ? e - 0.001 : e)),
    code: "strain-steps-back",
    doubted: [],
    right: ["Rp0.2", "Rm", "Elongation"],
  },
  {
    what: "extensometer opens slowly at 10 %",
    record: strain((e) => (e > 0.1 ? Math.max(0.002, 0.1 - 4 * (e - 0.1)) : e)),
    code: "extensometer-ended",
    doubted: ["Elongation"],
    right: ["Rp0.2", "Rm"],
  },
  {
    what: "extensometer off at 10 %, its channel noisy",
    record: strain((e, i) => (e > 0.1 ? 0.1 + 1e-4 * display[i]! : e)),
    code: "extensometer-ended",
    doubted: ["Elongation"],
    right: ["Rp0.2", "Rm"],
  },
  {
    what: "samples around Rm lost, no time column",
    record: without((e) => e > 0.3 && e < 0.46),
    code: "strain-jumps",
    doubted: ["Rm"],
    right: ["Rp0.2"],
  },
  {
    what: "samples around yield lost, no time column",
    record: without((e) => e > 0.0008 && e < 0.006),
    code: "strain-jumps",
    doubted: ["Rp0.2"],
    right: ["Rm"],
  },
  {
    what: "the record stops at 300 MPa, still rising",
    record: without((_, s) => s > 300),
    doubted: ["Rm"],
    right: ["Rp0.2"],
  },
  {
    what: "the record begins at 100 MPa",
    record: without((_, s) => s < 100),
    code: "force-at-start",
    doubted: ["Rp0.2", "Rm"],
    right: [],
  },
  {
    what: "one sample 6 % too high near Rm",
    record: stress((s, i) => (i === 2500 ? 1.06 * s : s)),
    code: "force-spike",
    doubted: ["Rm"],
    right: ["Rp0.2", "Elongation"],
  },
  {
    what: "force not set to zero, by 33 MPa",
    record: stress((s) => s + 33),
    code: "force-at-start",
    doubted: ["Rp0.2", "Rm"],
    right: [],
  },
  {
    what: "tension written with a minus",
    record: stress((s) => -s),
    code: "force-negative",
    doubted: ["Rm"],
    right: [],
  },
  {
    what: "section 17 % too small",
    record: stress((s) => 1.25 * s),
    code: "slope-outside-range",
    doubted: ["Rp0.2", "Rm"],
    right: [],
  },
  {
    what: "gauge length 40 mm for 50 mm",
    record: strain((e) => 1.25 * e),
    code: "slope-outside-range",
    doubted: ["Rp0.2", "Elongation"],
    right: ["Rm"],
  },
];

describe("one fault each", () => {
  for (const { what, record, specimen, code, doubted, right } of FAULTS) {
    test(what, () => {
      const reduction = reduceRecord(recordOf(record, specimen));
      if (code === undefined) expect(codes(reduction)).toEqual([]);
      else expect(codes(reduction)).toContain(code);
      for (const quantity of doubted) expect(isDoubted(reduction, quantity), `${quantity} is doubted`).toBe(true);
      for (const quantity of right) {
        expect(isDoubted(reduction, quantity), `${quantity} decides`).toBe(false);
        const value = reduction.results.find((result) => result.quantity === quantity)!.value;
        const expected = RIGHT[quantity];
        if (expected !== undefined) expect(Math.abs(value / expected - 1), quantity).toBeLessThan(0.005);
      }
    });
  }
});

describe("a record with the break in it", () => {
  const after = Float64Array.from({ length: 30 }, () => AUSTENITIC.fractureStrain);
  const broken = (zeroMPa: number): TensileColumns => ({
    strain: Float64Array.from([...curve.strain, ...after]),
    stressMPa: Float64Array.from([...curve.stressMPa, ...after.map(() => 0)], (value) => value + zeroMPa),
  });

  test("strain that stands still afterwards is no extensometer taken off", () => {
    const reduction = reduceRecord(recordOf(broken(0)));
    expect(codes(reduction)).toEqual([]);
    expect(isDoubted(reduction, "Elongation")).toBe(false);
  });

  test("a force that does not go back to zero was never at zero", () => {
    const reduction = reduceRecord(recordOf(broken(12)));
    expect(codes(reduction)).toContain("force-zero");
    expect(isDoubted(reduction, "Rm")).toBe(true);
  });
});

describe("crosshead only: force and section have nothing to be checked by but the strength itself", () => {
  const record = (factor: number) =>
    recordOf(
      {
        forceNewton: curve.stressMPa.map((value) => 150 * value * factor),
        crossheadMm: curve.strain.map((value, i) => 75 * value + curve.stressMPa[i]! * 0.0075),
      },
      { areaMm2: { value: 150, printed: "150" }, parallelLengthMm: { value: 75, printed: "75" } },
    );
  test.each([
    ["N under kN", 1000],
    ["kN under N", 0.001],
    ["lbf under N", 1 / 4.448222],
    ["kgf under N", 1 / 9.80665],
    ["N under lbf", 4.448222],
  ])("%s", (_, factor) => {
    const reduction = reduceRecord(record(factor));
    expect(codes(reduction)).toContain("units-suspect");
    expect(isDoubted(reduction, "Rm")).toBe(true);
  });

  test("in its own unit Rm decides", () => expect(isDoubted(reduceRecord(record(1)), "Rm")).toBe(false));
});
