import { describe, expect, test } from "vitest";
import { controlLimits } from "../../../../core/report/compare/control-limits.js";

// Carbon of ten heats from one invented mill, thousandths of a percent. By hand: mean 21.9, moving ranges 1 2 3 2 1 2 3 1 2,
// mean range 17/9 = 1.8889, limits 21.9 ± 2.66 x 1.8889 (textbook constants 2.66 and 3.267).
const CARBON = [21, 22, 20, 23, 21, 22, 24, 21, 22, 24];

describe("individuals and moving range", () => {
  test("limits as by hand", () => {
    const limits = controlLimits([21, 22, 20, 23, 21, 22, 24, 21, 22, 23])!;
    expect(limits.mean).toBeCloseTo(21.9, 9);
    expect(limits.meanRange).toBeCloseTo(16 / 9, 9);
    expect(limits.upper).toBeCloseTo(21.9 + (2.66 * 16) / 9, 9);
    expect(limits.lower).toBeCloseTo(21.9 - (2.66 * 16) / 9, 9);
    expect(limits.upperRange).toBeCloseTo((3.267 * 16) / 9, 9);
    expect(limits.signals).toEqual([]);
  });

  test("a slow drift is seen before it fails: limits from the settled start, the last heats beyond them", () => {
    const drifting = [...CARBON, 25, 26, 27, 28, 29];
    expect(controlLimits(drifting, 10)!.signals.map(({ index, because }) => `${index} ${because}`)).toEqual([
      "13 beyond-limit",
      "14 beyond-limit",
    ]);
  });

  test("eight in a row on one side of the mean", () => {
    const shifted = [...CARBON, ...Array.from({ length: 8 }, (_, i) => 23 + (i % 2) * 0.2)];
    expect(controlLimits(shifted, 10)!.signals.some(({ because }) => because === "run")).toBe(true);
  });

  test("a jump inside the limits is seen by its range", () => {
    const limits = controlLimits([...CARBON, 18, 26], 10)!;
    expect(limits.signals.map(({ because }) => because)).toContain("range");
  });

  test("too few heats give no limits", () => {
    expect(controlLimits([1, 2, 3, 4, 5, 6, 7])).toBeUndefined();
    expect(controlLimits([1, 2, 1, 2, 1, 2, 1, 2])).toBeDefined();
  });

  test("a process that never moves is held to its one value", () => {
    const still = controlLimits([5, 5, 5, 5, 5, 5, 5, 5])!;
    expect(still.upper).toBe(5);
    expect(still.signals).toEqual([]);
  });
});
