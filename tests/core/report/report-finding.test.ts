import { beforeAll, describe, expect, it } from "vitest";
import type { Reading } from "../../../core/certificate/certificate.js";
import type { Known, Library } from "../../../core/grades/grade.js";
import { reportFinding } from "../../../core/report/report-finding.js";
import { type ProjectLimit, type Requirement, requirementSchema } from "../../../core/requirement/requirement.js";
import { judgeHeat } from "../../../core/verdict/judge-heat.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";
import { clean304L, heatOf, impactSet } from "../../support/heat.js";

let library: Library;
beforeAll(async () => {
  library = await loadLibrary();
});

type Asked = Partial<Omit<Requirement, "requirement" | "name">>;

function findings(readings: readonly Reading[], asked: Asked, from: Library = library) {
  const requirement = requirementSchema.parse({ requirement: 1, name: "T-204", ...asked });
  const heat = heatOf(readings);
  return judgeHeat({ heat, certificates: [], doubts: [], requirement, library: from }).judgements.map(reportFinding);
}

const ofProject = (readings: readonly Reading[], limit: ProjectLimit) =>
  findings(readings, { limits: [limit] }).find((finding) => finding.limit?.id === "requirement#limits/0");

describe("whether the limit behind a finding is verified", () => {
  const A240 = [{ standard: "ASTM A240/A240M", grade: "S30403" }];

  /** The library with one limit of every grade known in another way. */
  function knowing(id: string, known: Known): Library {
    const grades = library.grades.map(({ grade, digest }) => ({
      digest,
      grade: { ...grade, limits: grade.limits.map((limit) => (limit.id === id ? { ...limit, known } : limit)) },
    }));
    return { ...library, grades };
  }

  const carbon = (known: Known, value: string) =>
    findings(clean304L({ C: value }), { grades: A240 }, knowing("C", known)).find(({ limit }) =>
      limit?.id.endsWith("#C"),
    )!;

  it.each<[Known, boolean]>([
    [{ how: "seen", sources: 1 }, true],
    [{ how: "user", sources: 0 }, true],
    [{ how: "seen", sources: 3, conflict: "0.035 in one table" }, false],
    [{ how: "sister", sources: 2 }, false],
    [{ how: "memory", sources: 0 }, false],
  ])("%j: %s, whether the value is inside or outside", (known, verified) => {
    expect(["0.021", "0.034"].map((value) => carbon(known, value).source.verified)).toEqual([verified, verified]);
  });

  it("is as true of a rule as of the limit that it serves", () => {
    const asked = (rule: string, singles: readonly string[]) =>
      findings(impactSet(singles), {
        impact: [{ zone: "base", temperature: "-196 °C", average: "60 J", rule }],
      }).flatMap(({ quantity, source }) =>
        quantity.startsWith("KV") ? [[quantity, source.verified, source.known]] : [],
      );
    expect(asked("EN 10021", ["90", "62", "50"])).toEqual([
      ["KV average", true, "project requirement"],
      ["KV single", false, "project requirement; EN 10021: from memory, not verified"],
    ]);
    expect(asked("ASME VIII", ["90", "62", "50"]).map(([, verified]) => verified)).toEqual([true, true]);
  });

  it("is asked of the rule that counts the pieces below a stated average", () => {
    const [average] = findings(impactSet(["90", "59", "59"]), {
      impact: [{ zone: "base", temperature: "-196 °C", average: "60 J", single: "40 J", rule: "EN 10021" }],
    }).filter(({ quantity }) => quantity === "KV average");
    expect([average?.outcome, average?.reason, average?.source.verified]).toEqual([
      "undetermined",
      "reference-unverified",
      false,
    ]);
  });

  it("is asked of the formula that computes the value", () => {
    const held = (formula: string, unit: "1") =>
      ofProject(clean304L({ W: "0.5" }), { quantity: "PREN", formula, min: "10", unit });
    expect(held("PREN (16 N)", "1")?.source.verified).toBe(true);
    expect(held("PREW (16 N)", "1")?.source.verified).toBe(false);
  });

  it("agrees with outcome and marks over every grade of the library", () => {
    for (const { grade } of library.grades) {
      for (const finding of findings(clean304L(), { grades: [{ standard: grade.standard, grade: grade.name }] })) {
        const isMarked = finding.notes?.some((note) => note.startsWith("This limit is not verified")) ?? false;
        if (finding.reason === "reference-unverified" || isMarked) expect(finding.source.verified).toBe(false);
        if (finding.outcome === "fail") expect(finding.source.verified).toBe(true);
      }
    }
  });

  it("is nothing to doubt where no limit stands behind the finding", () => {
    const findingsOfBadHeat = findings(clean304L({ "Rp0.2": "700" }), { grades: A240 });
    const contradiction = findingsOfBadHeat.find(({ reason }) => reason === "contradiction");
    expect(contradiction?.source).toMatchObject({ known: "not a limit", verified: true });
  });
});

describe("a computed value that is known only as a range", () => {
  it("names the elements that would close it", () => {
    // Cr 18.21 + 16 × 0.062 N = 19.2 without molybdenum, which may raise it beyond 20.
    const finding = ofProject(clean304L(), { quantity: "PREN", min: "20", unit: "1" });
    expect([finding?.outcome, finding?.reason]).toEqual(["undetermined", "bound-not-decisive"]);
    expect(finding?.message).toMatch(/ is 19\.202 or more, which does not decide.*; Mo is not reported\.$/);
  });

  it("says nothing of elements where only a bound leaves it open", () => {
    const finding = ofProject(clean304L({ Mo: "<0.30" }), { quantity: "PREN", min: "20", unit: "1" });
    expect(finding?.reason).toBe("bound-not-decisive");
    expect(finding?.message).not.toContain("not reported");
  });
});
