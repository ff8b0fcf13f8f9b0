import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import type { Reading } from "../../../../core/certificate/certificate.js";
import type { Library } from "../../../../core/grades/grade.js";
import { acrossHeatsContradictions } from "../../../../core/verdict/consistency/across-heats.js";
import { judgeHeat } from "../../../../core/verdict/judge-heat.js";
import { worstOutcome } from "../../../../core/verdict/worst.js";
import { loadLibrary } from "../../../../worker/store/grade-files.js";
import { clean304L, heatOf, impactSet, reading } from "../../../support/heat.js";
import { numbered } from "./saying.js";

let library: Library;
beforeAll(async () => {
  library = await loadLibrary();
});

/** Values that fit, that fail, and that contradict their neighbours or the usual range. */
const ROWS: readonly Reading[] = [
  ...clean304L(),
  ...impactSet(["61", "65", "64"], { average: "70" }),
  reading("C", "0.050"),
  reading("C", "21"),
  reading("Mn", "1.71"),
  reading("Fe", "80"),
  reading("Rp0.2", "610"),
  reading("Rp0.2", "60"),
  reading("Rm", "604 ksi"),
  reading("Z", "101"),
  reading("PREN", "35"),
  reading("FN", "60"),
];
const rows = fc.shuffledSubarray([...ROWS]);

const judge = (readings: readonly Reading[]) =>
  judgeHeat({ heat: heatOf(readings), certificates: [], doubts: [], requirement: null, library });

describe("consistency", () => {
  it("only ever lowers: what is said is undetermined, and the verdict is never better than without it", () => {
    fc.assert(
      fc.property(rows, (readings) => {
        const { judgements, verdict } = judge(readings);
        const [said, rest] = [true, false].map((is) =>
          judgements.filter(({ reason }) => (reason === "contradiction") === is).map(({ outcome }) => outcome),
        );
        expect(new Set([...said!, "undetermined"])).toEqual(new Set(["undetermined"]));
        expect(verdict).toBe(worstOutcome([...rest!, ...said!]));
        if (worstOutcome(rest!) === "fail") expect(verdict).toBe("fail");
        if (said!.length > 0) expect(["fail", "undetermined"]).toContain(verdict);
      }),
      { numRuns: 100 },
    );
  });

  it("does not depend on the order of rows", () => {
    fc.assert(
      fc.property(rows, (readings) => {
        const inOrder = ROWS.filter((row) => readings.includes(row));
        const contradictions = (given: readonly Reading[]) =>
          judge(given).judgements.filter(({ reason }) => reason === "contradiction").length;
        expect(judge(readings).verdict).toBe(judge(inOrder).verdict);
        expect(contradictions(readings)).toBe(contradictions(inOrder));
      }),
      { numRuns: 100 },
    );
  });

  it("finds the same copies across heats in whatever order heats and rows stand", () => {
    fc.assert(
      fc.property(fc.shuffledSubarray([...clean304L()], { minLength: 12 }), fc.boolean(), (readings, turned) => {
        const heats = [
          { heat: "H1", readings: numbered(clean304L()) },
          { heat: "H2", readings: numbered(readings) },
        ];
        const across = acrossHeatsContradictions(turned ? heats.reverse() : heats);
        expect(heats.map(({ heat }) => across.get(heat)?.length)).toEqual([2, 2]);
      }),
    );
  });
});
