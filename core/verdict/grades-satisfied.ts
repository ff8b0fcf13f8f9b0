import type { JoinedHeat } from "../certificate/joined-heat.js";
import type { Library, LibraryGrade } from "../grades/grade.js";
import type { Requirement } from "../requirement/requirement.js";
import type { Outcome } from "./finding.js";
import { gatherEvidence } from "./gather-evidence.js";
import { judgeGrade } from "./judge-grade.js";
import type { Judgement } from "./judgement.js";
import { worstOutcome } from "./worst.js";

export interface GradeAnswer {
  readonly grade: LibraryGrade;
  readonly outcome: Outcome;
  /** What fails or cannot be decided, in the order of the grade's limits. */
  readonly open: readonly Judgement[];
  /** Limits that were met, for telling a full answer from an empty one. */
  readonly met: number;
}

/**
 * Every grade of the library held against one heat: met, missed and by what, or not decidable and why. It answers what the metal is like,
 * not what it is certified as: a 304 certificate with 0.021 % carbon meets 304L and stays a 304 certificate.
 */
export function gradesSatisfied(
  heat: JoinedHeat,
  requirement: Requirement | null,
  library: Library,
): readonly GradeAnswer[] {
  const evidence = gatherEvidence(heat, [], requirement);
  return library.grades.map((grade) => {
    const judgements = judgeGrade(grade, library.tolerances, evidence, requirement?.rounding);
    return {
      grade,
      outcome: worstOutcome(judgements.map(({ outcome }) => outcome)),
      open: judgements.filter(({ outcome }) => outcome === "fail" || outcome === "undetermined"),
      met: judgements.filter(({ outcome }) => outcome === "pass").length,
    };
  });
}
