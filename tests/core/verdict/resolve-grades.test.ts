import { describe, expect, it } from "vitest";
import type { GradeClaim, Statement } from "../../../core/certificate/certificate.js";
import type { GradeReference, Requirement } from "../../../core/requirement/requirement.js";
import { resolveGrades } from "../../../core/verdict/resolve-grades.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";

const library = await loadLibrary();

function requiring(...grades: GradeReference[]): Requirement {
  return { requirement: 1, name: "T-204 shell plate", grades };
}

function claim(value: GradeClaim): Statement<GradeClaim> {
  return { value, printed: value.grade, confidence: 1, evidence: { document: 0, line: 1, column: 1 } };
}

function resolved(requirement: Requirement | null, ...claims: GradeClaim[]) {
  const { grades, judgements } = resolveGrades(library, requirement, claims.map(claim));
  return { ids: grades.map(({ grade }) => grade.grade.id), reasons: judgements.map(({ reason }) => reason) };
}

describe("the grades that a heat is held to", () => {
  it.each<[GradeReference, readonly string[]]>([
    [{ standard: "ASTM A240/A240M", grade: "S30403" }, ["astm-a240/2007e1/s30403"]],
    [{ standard: "A240", grade: "304/304L" }, ["astm-a240/2007e1/s30400", "astm-a240/2007e1/s30403"]],
    [{ grade: "ASTM A240 304/304L" }, ["astm-a240/2007e1/s30400", "astm-a240/2007e1/s30403"]],
    [{ grade: "1.4307 to EN 10028-7" }, ["en-10028-7/2016/1.4307"]],
  ])("are the requirement's, written as %j", (reference, ids) => {
    const claims = [
      { standard: "A240", grade: "304/304L" },
      { standard: "EN 10028-7", grade: "1.4307" },
    ];
    expect(resolved(requiring(reference), ...claims)).toEqual({ ids, reasons: [] });
  });

  it("are the certificate's without a requirement", () => {
    const { ids } = resolved(null, { standard: "ASTM A240", edition: "04", grade: "304/304L" });
    expect(ids).toEqual(["astm-a240/2004/s30400", "astm-a240/2004/s30403"]);
  });

  it("take their edition from the certificate where the requirement names none", () => {
    const claimed = { standard: "ASTM A240", edition: "04", grade: "304L" };
    expect(resolved(requiring({ standard: "A240", grade: "304L" }), claimed).ids).toEqual(["astm-a240/2004/s30403"]);
  });

  it("stay open where a name is not enough, or unknown", () => {
    expect(resolved(requiring({ grade: "304L" }))).toEqual({ ids: [], reasons: ["grade-ambiguous"] });
    expect(resolved(requiring({ standard: "A240", grade: "304Q" }))).toEqual({ ids: [], reasons: ["grade-unknown"] });
  });

  it("are marked where no document claims them", () => {
    const required = requiring({ standard: "A240", grade: "304L" });
    expect(resolved(required, { standard: "A240", grade: "304" }).reasons).toEqual(["grade-not-claimed"]);
    expect(resolved(required, { standard: "A240", grade: "Type 304L" }).reasons).toEqual([]);
    expect(resolved(required).reasons).toEqual(["grade-not-claimed"]);
    const european = requiring({ standard: "EN 10088-2", grade: "1.4307" });
    expect(resolved(european, { standard: "EN 10088", grade: "1.4307" }).reasons).toEqual([]);
  });
});
