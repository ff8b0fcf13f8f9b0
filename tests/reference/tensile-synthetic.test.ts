import { describe, expect, test } from "vitest";
import type { Quantity } from "../../core/quantity/quantity.js";
import { reduceRecord } from "../../core/reduction/tensile/reduce-record.js";
import type { TensileReduction } from "../../core/reduction/tensile/reduction.js";
import { alongPolyline, normalNoise, rambergOsgoodStrain, recordOf } from "./synthetic-curve.js";

// Curves exact by construction: the right answer is known to as many digits as wanted.

function resultOf(reduction: TensileReduction, quantity: Quantity): number {
  return reduction.results.find((result) => result.quantity === quantity)?.value ?? Number.NaN;
}

const codes = (reduction: TensileReduction) => reduction.doubts.map(({ code }) => code);

function rambergOsgood(shift = 0) {
  const stressMPa = Float64Array.from({ length: 601 }, (_, i) => i * 0.5);
  const strain = stressMPa.map((stress) => rambergOsgoodStrain(stress, 200_000, 250, 20) + shift);
  return { strain, stressMPa };
}

describe("a Ramberg-Osgood curve, E 200 GPa, Rp0.2 250 MPa, exponent 20", () => {
  for (const shift of [0, 0.0007, -0.003]) {
    test(`strain shifted by ${shift}: the zero error does not move the results`, () => {
      const reduction = reduceRecord(recordOf(rambergOsgood(shift)));
      expect(Math.abs(resultOf(reduction, "Rp0.2") - 250)).toBeLessThan(0.1);
      expect(Math.abs(resultOf(reduction, "Rp1.0") - 270.9496)).toBeLessThan(0.1);
      expect(Math.abs(resultOf(reduction, "Rt0.5") - 257.8468)).toBeLessThan(0.1);
      expect(Math.abs(resultOf(reduction, "E") / 200 - 1)).toBeLessThan(1e-4);
      expect(Math.abs(reduction.work!.line!.zeroStrain - shift)).toBeLessThan(2e-6);
      expect(resultOf(reduction, "ReH")).toBeNaN();
    });
  }

  test("a curved toe, as wedge grips leave it, is outside the window", () => {
    const { strain, stressMPa } = rambergOsgood();
    // Up to 20 MPa the strain runs ahead, then keeps what it gained: 10 % of Rm is 30 MPa.
    const withToe = strain.map((value, i) => value + 0.0004 * (1 - Math.max(0, 1 - stressMPa[i]! / 20) ** 2));
    const reduction = reduceRecord(recordOf({ strain: withToe, stressMPa }));
    expect(Math.abs(resultOf(reduction, "Rp0.2") - 250)).toBeLessThan(0.1);
    expect(reduction.work!.line!.zeroStrain).toBeCloseTo(0.0004, 5);
  });

  test("an unloading loop before and after yielding moves neither slope nor proof strength", () => {
    const { strain, stressMPa } = rambergOsgood();
    const [e, s] = [[...strain], [...stressMPa]];
    for (const at of [240, 530]) {
      const top = s.findIndex((value) => value >= at / 2);
      const down = Array.from({ length: 40 }, (_, i) => s[top]! - i);
      const loop = [...down, ...down.toReversed()];
      s.splice(top + 1, 0, ...loop);
      e.splice(top + 1, 0, ...loop.map((value) => e[top]! - (s[top]! - value) / 200_000));
    }
    const reduction = reduceRecord(recordOf({ strain: Float64Array.from(e), stressMPa: Float64Array.from(s) }));
    expect(Math.abs(resultOf(reduction, "Rp0.2") - 250)).toBeLessThan(0.1);
    expect(codes(reduction)).not.toContain("strain-steps-back");
    expect(resultOf(reduction, "ReH")).toBeNaN();
  });
});

const YIELDING = [
  [0, 0],
  [350 / 210_000, 350],
  [350 / 210_000 + 0.0002, 322],
  [350 / 210_000 + 0.0004, 330],
  [0.02, 330],
  [0.15, 510],
  [0.3, 400],
] as const;

describe("a curve with discontinuous yielding, piecewise straight", () => {
  const reduction = reduceRecord(recordOf(alongPolyline(YIELDING, 90_001)));
  const expected: readonly (readonly [Quantity, number])[] = [
    ["ReH", 350],
    ["ReL", 330], // the 322 MPa dip is the first swing, which ReL leaves out
    ["Rm", 510],
    ["Agt", 15],
    ["Ag", 15 - (100 * 510) / 210_000],
    ["toughness", 129.19207],
    ["Elongation", 30 - (100 * 400) / 210_000],
  ];
  for (const [quantity, value] of expected) {
    test(`${quantity} is ${value}`, () => expect(Math.abs(resultOf(reduction, quantity) - value)).toBeLessThan(0.02));
  }

  test("the proof strength on the plateau says that it lies there", () => {
    const proof = reduction.results.find(({ quantity }) => quantity === "Rp0.2");
    expect(proof?.notes.join()).toContain("discontinuous yielding");
  });

  test("where the upper yield stress is never reached again, Rm is the highest stress after yielding", () => {
    const high = YIELDING.map(
      ([strain, stress]) => [strain, stress === 510 ? 345 : stress > 345 && strain > 0.1 ? 300 : stress] as const,
    );
    const steel = reduceRecord(recordOf(alongPolyline(high, 90_001)));
    expect(resultOf(steel, "ReH")).toBeCloseTo(350, 1);
    expect(Math.abs(resultOf(steel, "Rm") - 345)).toBeLessThan(0.02);
  });
});

test.each([
  [0.5, true],
  [4, false],
])("yield stresses under noise of %s MPa: right within 1 %%, or doubted", (noiseMPa, decides) => {
  const draw = normalNoise(11);
  const fine = alongPolyline(YIELDING, 20_001);
  const { results } = reduceRecord(
    recordOf({ ...fine, stressMPa: fine.stressMPa.map((stress) => stress + noiseMPa * draw()) }),
  );
  for (const quantity of ["ReH", "ReL"] as const) {
    const found = results.find((result) => result.quantity === quantity)!;
    expect(found.doubtful === undefined, quantity).toBe(decides);
    const exact = resultOf(reduceRecord(recordOf(fine)), quantity);
    if (decides) expect(Math.abs(found.value / exact - 1), quantity).toBeLessThan(0.01);
  }
});

test("a hard material that necks right after yielding has no upper yield stress", () => {
  const points = [
    [0, 0],
    [0.005, 1000],
    [0.012, 1050],
    [0.05, 700],
  ] as const;
  const reduction = reduceRecord(recordOf(alongPolyline(points, 20_001)));
  expect(resultOf(reduction, "ReH")).toBeNaN();
  expect(Math.abs(resultOf(reduction, "Rm") - 1050)).toBeLessThan(0.1);
});

test("serrations at large strain, as in austenitic steel near absolute zero, are no yield point", () => {
  const { strain, stressMPa } = alongPolyline(
    [
      [0, 0],
      [0.002, 400],
      [0.01, 520],
      [0.3, 1500],
      [0.32, 1400],
    ],
    32_001,
  );
  const serrated = stressMPa.map((stress, i) =>
    strain[i]! > 0.03 && strain[i]! < 0.29 && i % 800 < 40 ? stress * 0.93 : stress,
  );
  const reduction = reduceRecord(recordOf({ strain, stressMPa: serrated }));
  expect(resultOf(reduction, "ReH")).toBeNaN();
  expect(Math.abs(resultOf(reduction, "Rm") - 1500)).toBeLessThan(1);
});

describe("what is wrong with a record is said", () => {
  const curve = alongPolyline(YIELDING, 6001);

  test("force clipped at 90 % of the maximum", () => {
    const stressMPa = curve.stressMPa.map((stress) => Math.min(stress, 459));
    const doubt = reduceRecord(recordOf({ ...curve, stressMPa })).doubts.find(({ code }) => code === "force-saturated");
    expect(doubt?.affects).toContain("Rm");
  });

  test("a coarse converter is not taken for a clipped one", () => {
    const stressMPa = curve.stressMPa.map((stress) => Math.round(stress / 2) * 2);
    expect(codes(reduceRecord(recordOf({ ...curve, stressMPa })))).not.toContain("force-saturated");
  });

  test("extensometer frozen at 4 %", () => {
    const strain = curve.strain.map((value) => Math.min(value, 0.04));
    const reduction = reduceRecord(recordOf({ ...curve, strain }));
    expect(codes(reduction)).toContain("extensometer-ended");
    expect(resultOf(reduction, "Rm")).toBeCloseTo(510, 0);
    expect(resultOf(reduction, "Ag")).toBeNaN();
    expect(resultOf(reduction, "Elongation")).toBeNaN();
  });

  test("extensometer that jumps back under load", () => {
    const strain = curve.strain.map((value) => (value > 0.1 ? value - 0.06 : value));
    const reduction = reduceRecord(recordOf({ ...curve, strain }));
    expect(codes(reduction)).toContain("extensometer-ended");
    expect(resultOf(reduction, "Elongation")).toBeNaN();
  });

  test("samples lost in the middle", () => {
    const keep = (_: number, i: number) => i < 2000 || i > 2400;
    const timeSeconds = Float64Array.from({ length: 6001 }, (_, i) => i * 0.05).filter(keep);
    const lost = { strain: curve.strain.filter(keep), stressMPa: curve.stressMPa.filter(keep), timeSeconds };
    expect(codes(reduceRecord(recordOf(lost)))).toContain("samples-missing");
  });

  test("cells that hold no number", () => {
    const stressMPa = curve.stressMPa.map((stress, i) => (i === 3000 ? Number.NaN : stress));
    expect(codes(reduceRecord(recordOf({ ...curve, stressMPa })))).toContain("samples-missing");
  });

  test("only the crosshead was recorded", () => {
    const crossheadMm = curve.strain.map((strain, i) => strain * 60 + curve.stressMPa[i]! * 0.002);
    const record = recordOf(
      { crossheadMm, stressMPa: curve.stressMPa },
      { parallelLengthMm: { value: 60, printed: "60 mm" } },
    );
    const doubt = reduceRecord(record).doubts.find(({ code }) => code === "machine-compliance");
    expect(doubt?.affects).toEqual(expect.arrayContaining(["Rp0.2", "A", "Ag"]));
    expect(doubt?.affects).not.toContain("Rm");
  });

  test("a record that stops before the piece necks gives no elongation that decides", () => {
    const stop = curve.strain.findIndex((strain) => strain > 0.14);
    const stopped = { strain: curve.strain.slice(0, stop), stressMPa: curve.stressMPa.slice(0, stop) };
    const elongation = reduceRecord(recordOf(stopped)).results.find(({ quantity }) => quantity === "Elongation");
    expect(elongation?.doubtful).toContain("before any necking");
  });

  test("stress and force that do not belong together", () => {
    const record = recordOf(
      { ...curve, forceNewton: curve.stressMPa.map((stress) => stress * 100) },
      { areaMm2: { value: 90, printed: "90 mm²" } },
    );
    expect(codes(reduceRecord(record))).toContain("stress-contradicts-force");
  });

  test("noise of 0.2 % of the maximum moves no strength by more than 0.5 %", () => {
    const draw = normalNoise(7);
    const fine = alongPolyline(YIELDING, 60_001);
    const stressMPa = fine.stressMPa.map((stress) => stress + draw());
    const reduction = reduceRecord(recordOf({ ...fine, stressMPa }));
    expect(Math.abs(resultOf(reduction, "Rm") / 510 - 1)).toBeLessThan(0.005);
    expect(Math.abs(resultOf(reduction, "Rp0.2") / 330 - 1)).toBeLessThan(0.005);
  });
});
