import { describe, expect, it } from "vitest";
import type { Outcome } from "../../../core/verdict/finding.js";
import { worstFirst, worstOutcome } from "../../../core/verdict/worst.js";

describe("the weightiest outcome", () => {
  it.each<[Outcome[], Outcome]>([
    [["pass", "fail", "undetermined"], "fail"],
    [["pass", "undetermined", "not-applicable"], "undetermined"],
    [["not-applicable", "pass"], "pass"],
    [["not-applicable"], "undetermined"], // nothing judged is not a pass
    [[], "undetermined"],
  ])("%j: %s", (outcomes, worst) => expect(worstOutcome(outcomes)).toBe(worst));

  it("comes first, equals in their order", () => {
    const items = (["pass", "fail", "pass", "fail"] as const).map((outcome, id) => ({ outcome, id }));
    expect(worstFirst(items).map(({ id }) => id)).toEqual([1, 3, 0, 2]);
  });
});
