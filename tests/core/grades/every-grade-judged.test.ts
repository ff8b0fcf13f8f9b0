import { describe, expect, it } from "vitest";
import type { Reading } from "../../../core/certificate/certificate.js";
import { numbered } from "../../../core/certificate/join-heats.js";
import type { LibraryGrade } from "../../../core/grades/grade.js";
import { decimal } from "../../../core/quantity/decimal.js";
import { kindOf } from "../../../core/quantity/quantity.js";
import { gatherEvidence } from "../../../core/verdict/gather-evidence.js";
import { judgeGrade } from "../../../core/verdict/judge-grade.js";
import type { Judgement } from "../../../core/verdict/judgement.js";
import { isVerified } from "../../../core/verdict/known.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";
import { middlingHeat } from "./middling-heat.js";

const library = await loadLibrary();

function judge(
  entry: LibraryGrade,
  change: (reading: Reading) => Reading = (reading) => reading,
): readonly Judgement[] {
  const heat = middlingHeat(entry.grade);
  const evidence = gatherEvidence({ ...heat, readings: numbered(heat.readings.map(change)) }, [], null);
  return judgeGrade(entry, library.tolerances, evidence);
}

function lines(judgements: readonly Judgement[]): string[] {
  return judgements.map(
    ({ quantity, outcome, reason, limit }) => `${limit?.id ?? quantity}: ${outcome} ${reason ?? ""}`,
  );
}

describe("every grade of the library", () => {
  it("is met by a heat that lies well inside its limits, with nothing left open", () => {
    const open = library.grades.flatMap((entry) =>
      judge(entry).filter(({ outcome }) => outcome === "fail" || outcome === "undetermined"),
    );
    expect(lines(open)).toEqual([]);
  });

  it("judges chemistry and strength of that heat, and something of every quantity that it limits for the product", () => {
    const empty = library.grades.filter((entry) => {
      const judged = judge(entry).filter(({ outcome }) => outcome === "pass");
      const wanted = new Set(entry.grade.limits.map(({ quantity }) => kindOf(quantity)));
      const isPassed = (kind: string) =>
        judged.some((judgement) => judgement.readings.some((reading) => kindOf(reading.quantity) === kind));
      return (["chemistry", "strength"] as const).some((kind) => wanted.has(kind) && !isPassed(kind));
    });
    expect(empty.map(({ grade }) => grade.id)).toEqual([]);
  });

  it("is missed in every value that is far outside: a fail where the limit is verified, else undetermined", () => {
    const wrong = library.grades.flatMap((entry) => {
      const passed = judge(entry).filter(({ outcome }) => outcome === "pass");
      return passed.flatMap(({ quantity, limit, readings, source }) => {
        if (limit === undefined || readings.length === 0) return [];
        // Every limit that holds these readings and no other.
        const isOwn = (reading: Reading) => readings.some((own) => own.quantity === reading.quantity);
        const far = limit.max === undefined ? "0.0001" : "100000";
        const judged = judge(entry, (reading) =>
          isOwn(reading) ? { ...reading, value: decimal(far), printed: far } : reading,
        );
        const again = judged.filter((judgement) => judgement.limit?.id === limit.id && judgement.quantity === quantity);
        // What follows from an impact rule, the floor for single values, is only as well known as the rule.
        const isByRule = limit.id.includes("#KV") || limit.id.includes("#LE");
        const expected = !isVerified(source.known) ? ["undetermined"] : isByRule ? ["fail", "undetermined"] : ["fail"];
        return again.some(({ outcome }) => expected.includes(outcome))
          ? []
          : lines(again.length > 0 ? again : judged.slice(0, 1));
      });
    });
    expect(wrong).toEqual([]);
  });
});
