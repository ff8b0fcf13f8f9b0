import { describe, expect, it } from "vitest";
import { findGrade } from "../../../core/grades/find-grade.js";
import { findGrades } from "../../../core/grades/find-grades.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";

const library = await loadLibrary();

describe("finding a grade", () => {
  it.each([
    ["ASTM A240/A240M", "304L", "astm-a240/2007e1/s30403"],
    ["A240", "S30403", "astm-a240/2007e1/s30403"],
    ["a 240", "Type 304 L", "astm-a240/2007e1/s30403"],
    ["ASTM A240", "UNS S30403", "astm-a240/2007e1/s30403"],
    ["ASTM A240", "304‑l", "astm-a240/2007e1/s30403"],
    ["ASTM A240", "301", "astm-a240/2004/s30100"],
    ["A312", "TP304L", "astm-a312/2017/s30403"],
    ["A312", "304L", "astm-a312/2017/s30403"],
    ["ASTM A182", "F304L", "astm-a182/undated/f304l"],
    ["ASTM A403/A403M", "WP304L-S", "astm-a403/undated/s30403"],
    ["EN 10028-7", "1.4307", "en-10028-7/2016/1.4307"],
    ["DIN EN 10028-7:2016", "X2CrNi18-9", "en-10028-7/2016/1.4307"],
    ["EN 10088-2", "x2 crni 18 9", "en-10088-2/2014/1.4307"],
    ["EN 10088-2", "1.4307+AT", "en-10088-2/2014/1.4307"],
    ["AWS A5.9", "ER308L", "aws-a5.9/1993/er308l"],
    ["SFA-5.4", "E308L-16", "aws-a5.4/2006/e308l"],
    ["EN ISO 14343-A", "G 19 9 L", "en-iso-14343-a/2017/19-9-l"],
    ["ISO 14343", "19 9 L", "en-iso-14343-a/2017/19-9-l"],
    ["SA-516", "Gr. 70", "astm-a516/2017/70"],
    ["ASTM A537", "Class 1", "astm-a537/recent/cl1"],
    ["A537", "CL.1", "astm-a537/recent/cl1"],
    ["A553", "Type I", "astm-a553/2000/type-1"],
    ["A350", "LF2 Class 1", "astm-a350/undated/lf2-cl1"],
    ["A193", "B7", "astm-a193/undated/b7"],
    ["EN 10025", "S355J2+N", "en-10025-2/2004/s355j2"],
    ["EN 10028-3", "P355NL1", "en-10028-3/2017/p355nl1"],
    ["API 5L", "X52N PSL2", "api-5l/undated/x52n-psl2"],
    ["ISO 3183", "L360N", "api-5l/undated/x52n-psl2"],
    ["EN 485-2", "EN AW-5083 H111", "en-485-2/undated/5083-o-h111"],
  ])("%s %s is %s", (standard, grade, id) => {
    expect(findGrade(library, { standard, grade })).toMatchObject({ kind: "found", grade: { grade: { id } } });
  });

  it.each([
    [{ edition: "2004", certificateEdition: "18" }, "astm-a240/2004/s30400", "edition 2004 named by the requirement"],
    [{ certificateEdition: "18" }, "astm-a240/2007e1/s30400", "edition 18 named by the certificate"],
    [{ certificateEdition: "99b" }, "astm-a240/2004/s30400", "edition 99b named by the certificate"],
    [{}, "astm-a240/2007e1/s30400", "newest edition, none was named"],
  ])("takes the edition of %j", (editions, id, chosen) => {
    const found = findGrade(library, { standard: "A240", grade: "304", ...editions });
    expect(found).toMatchObject({ kind: "found", grade: { grade: { id } }, chosen });
  });

  it("takes the edition that stands with the standard", () => {
    const found = findGrade(library, { standard: "ASTM A240-04", grade: "304" });
    expect(found).toMatchObject({
      grade: { grade: { id: "astm-a240/2004/s30400" } },
      chosen: "edition 04 named with the standard",
    });
  });

  it("does not guess an edition between two that are held", () => {
    const found = findGrade(library, { standard: "A240", grade: "304", edition: "2006" });
    expect(found).toMatchObject({ kind: "ambiguous", because: expect.stringContaining("2006 is not held") });
  });

  it.each([
    ["304L", undefined, "name the standard"],
    ["1.4307", undefined, "name the standard"],
    ["LF2", "A350", "name it in full"],
    ["B", "A53", "name it in full"],
    ["409", "A240", "name it in full"],
  ])("gives candidates for %s in %s", (grade, standard, because) => {
    const found = findGrade(library, { grade, ...(standard && { standard }) });
    expect(found).toMatchObject({ kind: "ambiguous", because: expect.stringContaining(because) });
    expect(found.kind === "ambiguous" && found.candidates.length).toBeGreaterThan(1);
  });

  it("says that two editions whose years are not known may both be meant", () => {
    const found = findGrade(library, { standard: "A537-13", grade: "Class 1" });
    expect(found).toMatchObject({ kind: "ambiguous", because: expect.stringContaining("more than one") });
  });

  it("says that ASME may lag behind", () => {
    const found = findGrade(library, { standard: "SA-240", grade: "304L" });
    expect(found).toMatchObject({ kind: "found", chosen: expect.stringContaining("ASME adopts editions late") });
  });

  it("names what may have been meant", () => {
    expect(findGrade(library, { standard: "A240", grade: "304K" })).toMatchObject({
      kind: "unknown",
      near: expect.arrayContaining(["ASTM A240/A240M S30403 (304L)"]),
    });
    expect(findGrade(library, { standard: "steel", grade: "304L" })).toMatchObject({ kind: "unknown" });
  });

  it("finds every grade by every designation that it has, in its own standard", () => {
    for (const { grade } of library.grades) {
      for (const designation of grade.designations) {
        const found = findGrade(library, { standard: grade.standard, grade: designation });
        const named = found.kind === "found" ? [found.grade] : found.kind === "ambiguous" ? found.candidates : [];
        expect(
          named.map((entry) => entry.grade.name),
          `${grade.id}: ${designation}`,
        ).toContain(grade.name);
      }
    }
  });
});

describe("finding all grades of a text", () => {
  const idsOf = (query: Parameters<typeof findGrades>[1]) =>
    findGrades(library, query).map((found) => (found.kind === "found" ? found.grade.grade.id : found.kind));

  it.each([
    [{ standard: "A240", grade: "304/304L" }, ["astm-a240/2007e1/s30400", "astm-a240/2007e1/s30403"]],
    [{ grade: "ASTM A240 304/304L" }, ["astm-a240/2007e1/s30400", "astm-a240/2007e1/s30403"]],
    [{ grade: "ASTM A240-04 304/304L" }, ["astm-a240/2004/s30400", "astm-a240/2004/s30403"]],
    [{ grade: "1.4307 / X2CrNi18-9 to EN 10028-7" }, ["en-10028-7/2016/1.4307"]],
    [{ grade: "ASTM A240 / ASME SA-240 304L" }, ["astm-a240/2007e1/s30403"]],
    [{ standard: "A240", grade: "304L / nonsense 77" }, ["astm-a240/2007e1/s30403", "unknown"]],
    [{ standard: "A240", grade: "nonsense" }, ["unknown"]],
    [{ grade: "A36" }, ["astm-a36/2014/a36"]],
    [{ grade: "SA-516-70" }, ["astm-a516/2017/70"]],
    [{ standard: "A240", grade: "304L", edition: "2004" }, ["astm-a240/2004/s30403"]],
    [{ standard: "EN 10028-7", grade: "ASTM A240 304L" }, ["astm-a240/2007e1/s30403"]],
    [{ standard: "A240", grade: "304L / S30403" }, ["astm-a240/2007e1/s30403"]],
    [
      { standard: "A240", grade: "Werkstoff-Nr. 304L und 316L" },
      ["astm-a240/2007e1/s30403", "astm-a240/undated/s31603"],
    ],
    [{ grade: "304L / 316L" }, ["ambiguous", "ambiguous"]],
    [{ grade: "stainless" }, ["unknown"]],
  ])("%j", (query, ids) => {
    expect(idsOf(query)).toEqual(ids);
  });

  it.each([
    ["ASTM A240", "ASTM A240 is a standard: name a grade of it"],
    ["EN 10028-7:2016", "EN 10028-7:2016 is a standard: name a grade of it"],
    ["nonsense 77", "no grade NONSENSE 77 in any standard held"],
    ["stainless", "no grade stainless in any standard held"],
    ["ASTM A240 304K", "no grade 304K in ASTM A240"],
  ])("%s is unknown: %s", (grade, because) => {
    expect(findGrades(library, { grade })).toMatchObject([{ kind: "unknown", because }]);
  });

  it("names nothing near a standard alone", () => {
    expect(findGrades(library, { grade: "ASTM A240" })).toMatchObject([{ near: [] }]);
  });
});

describe("a designation of another system", () => {
  it.each([
    ["ASTM A240", "TP304L", "ASTM A240/A240M S30403 (304L)"],
    ["ASTM A240", "SUS304L", "ASTM A240/A240M S30403 (304L)"],
  ])("%s %s is unknown, and what may be meant is named first", (standard, grade, near) => {
    const found = findGrade(library, { standard, grade });
    expect(found.kind === "unknown" && found.near[0]).toBe(near);
  });

  it("is found where the standard has it", () => {
    expect(findGrade(library, { standard: "A312", grade: "TP304L" }).kind).toBe("found");
  });
});

it("takes the edition that is written out before the newest one", () => {
  const [found] = findGrades(library, { grade: "EN 10088-2 ed. 2005 1.4307" });
  expect(found).toMatchObject({ kind: "found", grade: { grade: { id: "en-10088-2/2005/1.4307" } } });
});
