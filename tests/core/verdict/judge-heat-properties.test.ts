import fc from "fast-check";
import { expect, it } from "vitest";
import type { JoinedHeat } from "../../../core/certificate/joined-heat.js";
import { requirementSchema } from "../../../core/requirement/requirement.js";
import { OUTCOMES } from "../../../core/verdict/finding.js";
import { judgeHeat } from "../../../core/verdict/judge-heat.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";
import { clean304L, heatOf, reading } from "../../support/heat.js";

const library = await loadLibrary();
const requirement = requirementSchema.parse({
  requirement: 1,
  name: "T-204 shell plate",
  grades: [{ standard: "ASTM A240/A240M", grade: "S30403" }],
});

const judge = (heat: JoinedHeat) => judgeHeat({ heat, certificates: [], doubts: [], requirement, library });

const rank = (outcome: string) => OUTCOMES.indexOf(outcome as "fail");

it("is monotone: a worse value never gives a better verdict", () => {
  const percent = fc.integer({ min: 0, max: 600 });
  fc.assert(
    fc.property(percent, percent, (a, b) => {
      const [low, high] = [Math.min(a, b), Math.max(a, b)].map((value) => (value / 10_000).toFixed(4));
      const [better, worse] = [low!, high!].map(
        (C) => judge(heatOf(clean304L({ C }))).judgements.find(({ quantity }) => quantity === "C")!.outcome,
      );
      expect(rank(worse!)).toBeLessThanOrEqual(rank(better!));
    }),
    { numRuns: 60 },
  );
});

it("does not depend on the order of rows, and another reading never improves a verdict", () => {
  const extra = fc.constantFrom(
    reading("C", "0.020"),
    reading("C", "0.040"),
    reading("Rm", "470"),
    reading("Cr", "18.2"),
  );
  fc.assert(
    fc.property(fc.shuffledSubarray(clean304L(), { minLength: 9 }), extra, (readings, added) => {
      const sorted = [...readings].sort((left, right) => (left.quantity < right.quantity ? -1 : 1));
      expect(judge(heatOf(readings)).verdict).toBe(judge(heatOf(sorted)).verdict);
      const reported = readings.some(({ quantity }) => quantity === added.quantity);
      if (reported) {
        expect(rank(judge(heatOf([...readings, added])).verdict)).toBeLessThanOrEqual(
          rank(judge(heatOf(readings)).verdict),
        );
      }
    }),
    { numRuns: 60 },
  );
});
