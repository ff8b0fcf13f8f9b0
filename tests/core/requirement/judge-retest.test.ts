import { describe, expect, it } from "vitest";
import { decimal } from "../../../core/quantity/decimal.js";
import { impactRule } from "../../../core/requirement/impact-rules.js";
import { judgeRetest, retestAllowed } from "../../../core/requirement/judge-retest.js";
import type { SetRequirement } from "../../../core/requirement/judge-set.js";

const ENERGY: SetRequirement = { average: decimal("27"), single: decimal("18"), rounding: "absolute" };
const EXPANSION: SetRequirement = { single: decimal("0.38"), rounding: "absolute" };
const set = (text: string) => text.split(" ").map(decimal);

describe("when a retest is allowed", () => {
  it.each([
    ["ASME VIII", "17 30 35", "yes"], // one below the single minimum
    ["ASME VIII", "17.9 26 27", "yes"],
    ["ASME VIII", "18 18 18", "yes"], // average at the single minimum, all below the required average
    ["ASME VIII", "26 26 40", "yes"],
    ["ASME VIII", "18 27 27", "no"], // average low, but only one value below it
    ["ASME VIII", "17 17 17", "no"],
    ["ASME VIII", "10 20 22", "person"], // average 17.3 and one value below 18
    ["ASME VIII", "17 17 40", "person"],
    ["ASTM A350", "17 30 35", "person"],
    ["EN 10021", "18 30 30", "yes"],
    ["EN 10021", "17 17 40", "no"],
    ["EN 10021", "26 26 26", "no"],
    ["IGC Code", "17 30 35", "person"],
  ])("%s after %s J: %s", (rule, first, allowed) => {
    expect(retestAllowed(impactRule(rule)!, ENERGY, set(first)).allowed).toBe(allowed);
  });

  it("compares the mean with a computed single minimum exactly", () => {
    // Two thirds of 28 is 18.666…; the mean of 18.6, 18.7, 18.7 lies exactly on it.
    const required: SetRequirement = { average: decimal("28"), rounding: "absolute" };
    expect(retestAllowed(impactRule("ASME VIII")!, required, set("18.6 18.7 18.7")).allowed).toBe("yes");
    expect(retestAllowed(impactRule("ASME VIII")!, required, set("18.5 18.7 18.7")).allowed).toBe("person");
  });

  it("goes to a person where no average is stated, and is not due for half a set", () => {
    const single: SetRequirement = { single: decimal("18"), rounding: "absolute" };
    expect(retestAllowed(impactRule("ASME VIII")!, single, set("17 30 35")).allowed).toBe("person");
    expect(retestAllowed(impactRule("ASME VIII")!, ENERGY, set("17 30")).allowed).toBe("no");
    expect(retestAllowed(impactRule("EN 10021")!, single, set("17 17 35")).allowed).toBe("no");
    expect(retestAllowed(impactRule("EN 10021")!, { rounding: "absolute" }, set("17 17 35")).allowed).toBe("yes");
  });

  it.each([
    ["0.37 0.40 0.40", "yes"],
    ["0.25 0.45 0.45", "yes"],
    ["0.24 0.45 0.46", "no"],
    ["0.37 0.37 0.60", "no"],
    ["0.30 0.38 0.40", "no"], // average 0.36
  ])("lateral expansion after %s mm: %s", (first, allowed) => {
    expect(retestAllowed(impactRule("each specimen")!, EXPANSION, set(first)).allowed).toBe(allowed);
  });

  it("asks a person for a lateral expansion whose retest floor is not known", () => {
    const colder: SetRequirement = { single: decimal("0.53"), rounding: "absolute" };
    expect(retestAllowed(impactRule("each specimen")!, colder, set("0.52 0.60 0.60")).allowed).toBe("person");
  });
});

describe("further pieces", () => {
  it.each([
    ["ASME VIII", "17 30 35", "27 28 30", "pass"],
    ["ASME VIII", "17 30 35", "26.9 40 40", "fail"],
    ["ASME VIII", "17 30 35", "27 28", "undetermined"],
    ["ASME VIII", "17 30 35", "26 28", "fail"],
    ["ASME VIII", "17 30 35", "27 28 30 31", "undetermined"],
    ["ASTM A350", "17 30 35", "27 27", "pass"],
    ["EN 10021", "18 30 30", "30 30 31", "pass"],
    ["EN 10021", "18 26 30", "30 30 31", "pass"],
    ["EN 10021", "18 26 30", "26.5 35 40", "fail"],
    ["EN 10021", "17 30 30", "17.9 40 40", "fail"],
    ["EN 10021", "18 26 28", "27 27 27", "fail"],
    ["IGC Code", "17 30 35", "40 40 40", "undetermined"],
  ])("%s: %s J, then %s J: %s", (rule, first, further, outcome) => {
    expect(judgeRetest(impactRule(rule)!, ENERGY, set(first), set(further)).outcome).toBe(outcome);
  });

  it("holds each further piece to the lateral expansion", () => {
    const rule = impactRule("each specimen")!;
    expect(judgeRetest(rule, EXPANSION, set("0.37 0.4 0.4"), set("0.38 0.38 0.40")).outcome).toBe("pass");
    expect(judgeRetest(rule, EXPANSION, set("0.37 0.4 0.4"), set("0.37 0.50 0.50")).outcome).toBe("fail");
  });
});
