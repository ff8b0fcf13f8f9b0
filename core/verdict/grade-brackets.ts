import type { LibraryGrade, ToleranceTable } from "../grades/grade.js";
import type { Rounding } from "../quantity/rounding.js";
import { type AppliedLimit, labelOf } from "./applied-limit.js";
import { groupBy } from "./group-by.js";

/** Limits that differ only in their conditions: at most a few of them apply to one product. */
export type Bracket = readonly AppliedLimit[];

interface Brackets {
  readonly tolerances: readonly ToleranceTable[];
  readonly rounding: Rounding | undefined;
  readonly brackets: readonly Bracket[];
}

/** The brackets of a grade are the same for every heat, and the grade does not change while it is held. */
const LAST_BRACKETS = new WeakMap<LibraryGrade, Brackets>();

export function bracketsOf(
  library: LibraryGrade,
  tolerances: readonly ToleranceTable[],
  rounding?: Rounding,
): readonly Bracket[] {
  const last = LAST_BRACKETS.get(library);
  if (last && last.tolerances === tolerances && last.rounding === rounding) return last.brackets;
  const brackets = groupBy(appliedLimits(library, tolerances, rounding), bracketKey);
  LAST_BRACKETS.set(library, { tolerances, rounding, brackets });
  return brackets;
}

function appliedLimits(
  { grade }: LibraryGrade,
  tolerances: readonly ToleranceTable[],
  rounding?: Rounding,
): AppliedLimit[] {
  const table = tolerances.find((candidate) => candidate.id === grade.productTolerance);
  return grade.limits.map((limit) => ({
    limit,
    id: `${grade.id}#${limit.id}`,
    holder: grade.name,
    source: { standard: grade.standard, edition: grade.edition.name, clause: limit.source.clause, known: limit.known },
    rounding: rounding ?? limit.rounding ?? grade.rounding,
    ...(table && { tolerances: table }),
    hasOwnProductLimit: grade.limits.some((other) => other.analysis === "product" && other.quantity === limit.quantity),
  }));
}

/** Limits that differ only in their conditions are brackets of one another; unconditional ones all apply. */
function bracketKey({ limit }: AppliedLimit): string {
  const own = limit.when === undefined ? limit.id : "";
  return [
    labelOf(limit),
    limit.analysis ?? "",
    limit.impact?.temperature ?? "",
    limit.when?.zone ?? "",
    limit.group ?? "",
    own,
  ].join("|");
}
