import { describe, expect, it } from "vitest";
import { findGrade } from "../../../core/grades/find-grade.js";
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
});
