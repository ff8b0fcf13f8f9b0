import { describe, expect, it } from "vitest";
import { findGrade } from "../../../core/grades/find-grade.js";
import type { Grade, Library } from "../../../core/grades/grade.js";
import { gradeIndex } from "../../../core/grades/grade-index.js";

function gradeOf(id: string, standard: string, designations: string[], edition: Grade["edition"]) {
  const grade: Grade = {
    id,
    standard,
    edition,
    name: designations[0]!,
    designations,
    forms: ["plate"],
    rounding: "absolute",
    limits: [],
  };
  return { grade, digest: "sha256:0" };
}

const library: Library = {
  grades: [
    gradeOf("a/1/304l", "ASTM X1", ["304L"], { name: "2004", from: 2004, to: 2006 }),
    gradeOf("a/2/304l", "ASTM X1", ["304L"], { name: "2007", from: 2007 }),
    gradeOf("b/1/s355", "Our Works 7", ["S355", "S355+N"], { name: "undated" }),
    gradeOf("c/1/s355", "Our Works 8", ["S355"], { name: "one", from: 2010 }),
    gradeOf("c/2/s355", "Our Works 8", ["S355"], { name: "two", from: 2010 }),
  ],
  tolerances: [],
};

describe("designations one character away", () => {
  const alike = (text: string) => [
    ...new Set(
      gradeIndex(library)
        .alike(text)
        .map(({ grade }) => grade.name),
    ),
  ];
  it.each([
    ["304K", ["304L"]],
    ["304", ["304L"]],
    ["304LN", ["304L"]],
    ["3O4L", ["304L"]],
    ["04L", ["304L"]],
    ["S35", ["S355"]],
    ["30", []],
    ["3O4K", []],
    ["304LNX", []],
    ["304KX", []],
  ])("%s: %j", (text, names) => expect(alike(text)).toEqual(names));
});

describe("looking a designation up", () => {
  const ids = (text: string, standard?: string) =>
    gradeIndex(library)
      .named(text, standard)
      .map(({ grade }) => grade.id);

  it("prefers the designation with its delivery condition, and finds the one without", () => {
    expect(ids("S355+N")).toEqual(["b/1/s355"]);
    expect(ids("S355+AR")).toEqual(["b/1/s355", "c/1/s355", "c/2/s355"]);
    expect(ids("S356+AR")).toEqual([]);
    expect(ids("S356")).toEqual([]);
  });

  it("knows a user's own standard by exactly its name", () => {
    expect(ids("S355", "Our Works 7")).toEqual(["b/1/s355"]);
    expect(findGrade(library, { standard: "Our Works 7", grade: "S355" })).toMatchObject({
      kind: "found",
      chosen: "the only edition held, none was named",
    });
  });
});

describe("choosing an edition", () => {
  it("takes an edition by its exact name, also one that is no year", () => {
    expect(findGrade(library, { standard: "Our Works 8", grade: "S355", edition: "two" })).toMatchObject({
      kind: "found",
      grade: { grade: { id: "c/2/s355" } },
    });
  });

  it("does not choose between two of the same year", () => {
    expect(findGrade(library, { standard: "Our Works 8", grade: "S355" })).toMatchObject({
      kind: "ambiguous",
      because: "none of the editions held is known to be the newest",
    });
    const found = findGrade(library, { standard: "Our Works 8", grade: "S355", edition: "2012" });
    expect(found).toMatchObject({
      kind: "ambiguous",
      because: "edition 2012 may be more than one of those held: one; two",
    });
  });

  it("gives only the editions that may be meant, and all where none may", () => {
    const candidates = (edition: string) => {
      const found = findGrade(library, { standard: "ASTM X1", grade: "304L", edition });
      return found.kind === "ambiguous" && found.candidates.map(({ grade }) => grade.id);
    };
    expect(candidates("2001")).toEqual(["a/1/304l", "a/2/304l"]);
    expect(candidates("no year")).toEqual(["a/1/304l", "a/2/304l"]);
  });

  it("names the standards that have the grade, and what may have been meant", () => {
    expect(findGrade(library, { grade: "S355" })).toMatchObject({
      because: "S355 is a grade of Our Works 7, Our Works 8: name the standard",
    });
    expect(findGrade(library, { grade: "304K" })).toEqual({
      kind: "unknown",
      near: ["ASTM X1 304L"],
      because: "no grade 304K in any standard held",
    });
    expect(findGrade(library, { grade: "304K", standard: "Our Works 7" })).toMatchObject({
      because: "no grade 304K in Our Works 7",
    });
  });
});
