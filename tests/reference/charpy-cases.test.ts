import { describe, expect, test } from "vitest";
import { indicatedEnergyJ, releaseEnergyJ } from "../../core/reduction/impact/absorbed-energy.js";
import { lateralExpansionMm, shearFracturePercent } from "../../core/reduction/impact/fracture-appearance.js";
import { lossAtRiseJ, pendulumLosses } from "../../core/reduction/impact/losses.js";
import { isWithinCapacity, isWithinTemperature, temperatureToleranceC } from "../../core/reduction/impact/validity.js";

describe("energy from the pendulum", () => {
  test("22 kg from 0.75 m to 0.28 m at 9.81 m/s²: a public worked problem prints about 101.4 J", () => {
    const pendulum = { massKg: 22, releaseHeightM: 0.75, gravity: 9.81 };
    expect(Math.abs(indicatedEnergyJ(pendulum, { riseHeightM: 0.28 })! - 101.4354)).toBeLessThan(0.1);
  });

  // The formula K = M (cos β - cos α) is public; the figures were computed apart from this code to 0.001 J.
  const pendulum = { massKg: 20.4, lengthM: 0.75, releaseAngle: 150 };
  for (const [releaseAngle, riseAngle, energyJ] of [
    [150, 90, 129.94],
    [150, 120, 54.9191],
    [150, 0, 279.9817],
    [140, 77.5, 147.4136],
  ] as const) {
    test(`20.4 kg at 0.75 m, released at ${releaseAngle}°, risen to ${riseAngle}°: ${energyJ} J`, () => {
      expect(indicatedEnergyJ({ ...pendulum, releaseAngle }, { riseAngle })).toBeCloseTo(energyJ, 3);
    });
  }

  test("energy at release 279.9817 J, from mass and length as from the moment", () => {
    expect(releaseEnergyJ(pendulum)).toBeCloseTo(279.9817, 3);
    expect(releaseEnergyJ({ momentNm: 150.04174499999996, releaseAngle: 150 })).toBeCloseTo(279.9817, 3);
  });

  test("nothing is made up where the record does not say enough", () => {
    expect(indicatedEnergyJ({ massKg: 20.4, releaseAngle: 150 }, { riseAngle: 90 })).toBeUndefined();
    expect(indicatedEnergyJ(pendulum, {})).toBeUndefined();
  });
});

test("losses by ISO 148-2: names of the quantities seen, expressions from memory; figures computed apart", () => {
  const pendulum = {
    momentNm: 150.04174499999996,
    releaseAngle: 150,
    freeSwing: { withPointer: 149.2, pointerDriven: 149.5, afterTenHalfSwings: 147.8 },
  };
  const losses = pendulumLosses(pendulum)!;
  expect(losses.pointerJ).toBeCloseTo(0.4005, 3);
  expect(losses.bearingAndAirJ).toBeCloseTo(0.2316, 3);
  expect(lossAtRiseJ(pendulum, losses, 90)).toBeCloseTo(0.42718, 3);
});

describe("validity, limits from memory of ISO 148-1 and ASTM E23", () => {
  for (const [energyJ, capacityJ, within] of [
    [239.9, 300, true],
    [240, 300, true],
    [240.1, 300, false],
    [120, 150, true],
  ] as const) {
    test(`${energyJ} J on ${capacityJ} J`, () => expect(isWithinCapacity(energyJ, capacityJ)).toBe(within));
  }
  for (const [specifiedC, actualC, standard, within] of [
    [-196, -195.1, "ASTM E23", true],
    [-196, -195, "ASTM E23", true],
    [-196, -194.9, "ASTM E23", false],
    [-20, -18, "ISO 148-1", true],
    [-20, -17.9, "ISO 148-1", false],
  ] as const) {
    test(`${actualC} °C for ${specifiedC} °C by ${standard}`, () => {
      expect(isWithinTemperature(specifiedC, actualC, temperatureToleranceC(standard))).toBe(within);
    });
  }
});

test("lateral expansion: the larger half of each side (ASTM E23, from memory)", () => {
  expect(lateralExpansionMm([0.2, 0.24], [0.19, 0.15])).toBeCloseTo(0.43, 9);
});

describe("shear fracture from the cleavage patch: reproduces the table of E23 and ISO 148-1, printed in whole percents", () => {
  for (const [width, depth, percent] of [
    [5, 5, 68.75],
    [10, 8, 0],
    [4, 4, 80],
    [1, 1, 98.75],
    [0, 0, 100],
  ] as const) {
    test(`${width} x ${depth} mm`, () => {
      expect(Math.abs(shearFracturePercent(width, depth)! - percent)).toBeLessThanOrEqual(0.5);
    });
  }
  test("a patch larger than the section is none", () => expect(shearFracturePercent(10, 8.1)).toBeUndefined());
  test("a sub-size section is smaller", () => expect(shearFracturePercent(5, 4, 5)).toBeCloseTo(50, 9));
});
