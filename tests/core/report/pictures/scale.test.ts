import fc from "fast-check";
import { expect, test } from "vitest";
import { niceRange, ticksOf } from "../../../../core/report/pictures/scale.js";

test.each<[what: string, values: readonly number[], from: number | undefined, range: readonly [number, number]]>([
  ["impact energies from zero", [54.9, 341], 0, [0, 400]],
  ["carbon contents", [0.018, 0.0229], undefined, [0.016, 0.024]],
  ["one value", [60], undefined, [57, 63]],
  ["nothing", [], 0, [0, 1]],
])("%s", (_what, values, from, range) => {
  expect(niceRange(values, from).map((end) => Number(end.toPrecision(12)))).toEqual(range);
});

test("every axis ends in numbers that are shown, around all its values", () => {
  const value = fc.integer({ min: -1e9, max: 1e9 }).map((thousandths) => thousandths / 1000);
  fc.assert(
    fc.property(fc.array(value, { minLength: 1 }), fc.option(fc.constant(0), { nil: undefined }), (values, from) => {
      const [low, high] = niceRange(values, from);
      const ticks = ticksOf(low, high);
      const near = (left: number, right: number) => Math.abs(left - right) <= 1e-6 * (high - low);
      expect(low).toBeLessThanOrEqual(Math.min(...values));
      expect(high).toBeGreaterThanOrEqual(Math.max(...values));
      expect(near(ticks[0]!, low) && near(ticks.at(-1)!, high)).toBe(true);
      expect(ticks.length).toBeGreaterThanOrEqual(3);
      expect(ticks.length).toBeLessThanOrEqual(9);
    }),
  );
});
