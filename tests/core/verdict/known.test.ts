import { describe, expect, it } from "vitest";
import type { Known } from "../../../core/grades/grade.js";
import { isSourceVerified, isVerified } from "../../../core/verdict/known.js";
import { MEMORY, SEEN } from "../../support/judging.js";

describe("a limit that may fail a heat", () => {
  it.each<[Known | undefined, boolean]>([
    [undefined, true], // the project's own
    [{ how: "user", sources: 0, conflict: "settled" }, true],
    [{ how: "seen", sources: 1 }, true],
    [{ how: "seen", sources: 0 }, false],
    [{ how: "seen", sources: 2, conflict: "35 in one table" }, false],
    [{ how: "sister", sources: 2 }, false],
    [{ how: "memory", sources: 0 }, false],
  ])("%j: %s", (known, verified) => expect(isVerified(known)).toBe(verified));

  it.each([
    [SEEN, SEEN, true],
    [SEEN, MEMORY, false],
    [MEMORY, SEEN, false],
    [SEEN, undefined, true],
  ])("known %j by a rule known %j: %s", (known, rule, verified) => {
    expect(isSourceVerified({ standard: "X", known, ...(rule && { by: { name: "rule", known: rule } }) })).toBe(
      verified,
    );
  });
});
