import type { LibraryGrade, ToleranceTable } from "../grades/grade.js";
import { matchForm } from "./conditions.js";
import { bracketsOf } from "./grade-brackets.js";
import type { HeatEvidence } from "./heat-evidence.js";
import type { Rounding } from "./hold.js";
import { judgeBracket } from "./judge-bracket.js";
import type { Judgement } from "./judgement.js";

/** Holds every limit of one grade against a heat. `rounding` is the requirement's, where it names one. */
export function judgeGrade(
  library: LibraryGrade,
  tolerances: readonly ToleranceTable[],
  evidence: HeatEvidence,
  rounding?: Rounding,
): readonly Judgement[] {
  const brackets = bracketsOf(library, tolerances, rounding);
  return [
    ...judgeForm(library, evidence),
    ...resolveAlternatives(
      brackets.flatMap((bracket) => inGroup(bracket[0]!.limit.group, judgeBracket(bracket, evidence))),
    ),
  ];
}

/** A plate may meet every number of a pipe specification and is still none of its products. */
function judgeForm({ grade }: LibraryGrade, { facts }: HeatEvidence): readonly Judgement[] {
  if (matchForm(grade.forms, facts.form) !== "no") return [];
  const source = { standard: grade.standard, edition: grade.edition.name };
  const says = { code: "form-not-covered", form: facts.form!, covered: grade.forms, holder: grade.name } as const;
  return [
    {
      outcome: "undetermined",
      reason: "bracket-unknown",
      quantity: "product form",
      readings: [],
      source,
      says,
      notes: [],
    },
  ];
}

interface GradeJudgement extends Judgement {
  readonly group?: string;
}

function inGroup(group: string | undefined, judgements: readonly Judgement[]): readonly GradeJudgement[] {
  return group === undefined ? judgements : judgements.map((judgement) => ({ ...judgement, group }));
}

/** Brinell or Rockwell: one must be reported and pass; the other is then not needed. */
function resolveAlternatives(judgements: readonly GradeJudgement[]): readonly Judgement[] {
  return judgements.flatMap((judgement, index) => {
    const { group, ...rest } = judgement;
    if (group === undefined || isReported(judgement)) return [rest];
    const members = judgements.filter((other) => other.group === group);
    const reported = members.find(isReported);
    if (reported) {
      const { reason: _reason, ...facts } = rest;
      const says = { code: "alternative-reported", instead: reported.quantity } as const;
      return [{ ...facts, outcome: "not-applicable" as const, readings: [], says }];
    }
    const isFirst = judgements.findIndex((other) => other.group === group) === index;
    const names = [...new Set(members.map((member) => member.quantity))].join(" or ");
    return isFirst ? [{ ...rest, quantity: names }] : [];
  });
}

/** A limit whose own quantity was read; a reading on another scale is not one of it. */
function isReported({ quantity, readings }: GradeJudgement): boolean {
  return readings.some((reading) => reading.quantity === quantity);
}
