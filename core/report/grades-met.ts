import type { Outcome, UndeterminedReason } from "../verdict/finding.js";
import type { GradeMatch, HeatMatches } from "./match.js";

/** One heat against the library in short: what `heatgate match` finds, with reasons only where they are few enough to help. */
export interface HeatGrades {
  readonly heat: string;
  readonly grades: readonly GradeMet[];
}

export interface GradeMet extends Omit<GradeMatch, "open"> {
  /** Limits that are missed, and not decided. */
  readonly missed: number;
  readonly open: number;
  /** Of a grade that is missed: what misses it, if no more than two limits do. Of one left open: what leaves it open. */
  readonly reasons: readonly GradeReason[];
}

export interface GradeReason {
  readonly outcome: Outcome;
  readonly reason?: UndeterminedReason;
  readonly quantity: string;
  readonly message: string;
}

/** A grade that is missed by more is another metal, and the reasons would fill the answer. */
const REASONS_AT_MOST = 2;

export function gradesMet({ heat, grades }: HeatMatches): HeatGrades {
  return { heat, grades: grades.map(gradeMet) };
}

function gradeMet({ open, ...grade }: GradeMatch): GradeMet {
  const failed = open.filter(({ outcome }) => outcome === "fail");
  const undecided = open.filter(({ outcome }) => outcome === "undetermined");
  const told = failed.length === 0 ? undecided : failed.length <= REASONS_AT_MOST ? failed : [];
  return {
    ...grade,
    missed: failed.length,
    open: undecided.length,
    reasons: told.map(({ outcome, reason, quantity, message }) => ({
      outcome,
      ...(reason !== undefined && { reason }),
      quantity,
      message,
    })),
  };
}
