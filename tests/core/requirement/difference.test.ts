import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Difference, differences } from "../../../core/requirement/difference.js";

describe("where two values differ", () => {
  it.each<[what: string, before: unknown, after: unknown, expected: readonly Difference[]]>([
    ["nothing", { a: 1 }, { a: 1 }, []],
    ["a value", { a: "0.030" }, { a: "0.025" }, [{ pointer: "/a", before: "0.030", after: "0.025" }]],
    ["digits count", { max: "0.03" }, { max: "0.030" }, [{ pointer: "/max", before: "0.03", after: "0.030" }]],
    ["something new", {}, { a: 1 }, [{ pointer: "/a", after: 1 }]],
    ["something gone", { a: 1 }, {}, [{ pointer: "/a", before: 1 }]],
    [
      "in a list",
      { a: [1, 2] },
      { a: [1, 3, 4] },
      [
        { pointer: "/a/1", before: 2, after: 3 },
        { pointer: "/a/2", after: 4 },
      ],
    ],
    ["a list for an object", { a: [] }, { a: {} }, [{ pointer: "/a", before: [], after: {} }]],
    ["a name with a slash", { "a/b": 1 }, { "a/b": 2 }, [{ pointer: "/a~1b", before: 1, after: 2 }]],
    ["a name that objects have anyway", {}, { toString: 1 }, [{ pointer: "/toString", after: 1 }]],
  ])("%s", (_what, before, after, expected) => {
    expect(differences(before, after)).toEqual(expected);
  });

  it("are found between no members and no items", () => {
    expect(differences({}, [])).toEqual([{ pointer: "", before: {}, after: [] }]);
  });

  it("are none exactly where the two are the same", () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (one, other) => {
        const isSame = JSON.stringify(sorted(one)) === JSON.stringify(sorted(other));
        expect(differences(one, other).length === 0).toBe(isSame || Object.is(one, other));
        expect(differences(one, structuredClone(one))).toEqual([]);
      }),
    );
  });
});

/** With members in one order, and an object of none still another value than an array of none. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const members = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return { members: members.map(([name, member]) => [name, sorted(member)]) };
}
