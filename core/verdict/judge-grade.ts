import type { LibraryGrade, ToleranceTable } from "../grades/grade.js";
import type { Rounding } from "../quantity/rounding.js";
import { fitGrade } from "./fit-grade.js";
import { bracketsOf } from "./grade-brackets.js";
import type { HeatEvidence } from "./heat-evidence.js";
import { judgeBracket } from "./judge-bracket.js";
import type { Judgement } from "./judgement.js";

/** Holds every limit of one grade against a heat. `rounding` is the requirement's, where it names one. */
export function judgeGrade(
  library: LibraryGrade,
  tolerances: readonly ToleranceTable[],
  evidence: HeatEvidence,
  rounding?: Rounding,
): readonly Judgement[] {
  const { coversForm, brackets } = fitGrade(library, bracketsOf(library, tolerances, rounding), evidence.facts);
  const own = isFiller(library) ? withWeldAsOwn(evidence) : evidence;
  const judged = brackets.flatMap((bracket) =>
    judgeBracket(bracket, own).map((judgement) => ({ group: bracket.first.limit.group, judgement })),
  );
  return [...(coversForm ? [] : [formNotCovered(library, evidence)]), ...resolveAlternatives(judged)];
}

const CONSUMABLES = ["wire", "rod", "covered electrode", "weld metal"];

function isFiller({ grade }: LibraryGrade): boolean {
  return grade.forms.some((form) => CONSUMABLES.includes(form));
}

/** Filler metals are tested as deposited: what a paper says of "the weld" is said of the product itself. */
function withWeldAsOwn(evidence: HeatEvidence): HeatEvidence {
  return {
    ...evidence,
    readings: evidence.readings.map((reading) => (reading.zone === "weld" ? { ...reading, zone: "base" } : reading)),
  };
}

/** A plate may meet every number of a pipe specification and is still none of its products. */
function formNotCovered({ grade }: LibraryGrade, { facts }: HeatEvidence): Judgement {
  return {
    outcome: "undetermined",
    reason: "bracket-unknown",
    quantity: "product form",
    readings: [],
    source: { standard: grade.standard, edition: grade.edition.name },
    says: { code: "form-not-covered", form: facts.form!, covered: grade.forms, holder: grade.name },
    notes: [],
  };
}

interface GradeJudgement {
  readonly group: string | undefined;
  readonly judgement: Judgement;
}

/** Brinell or Rockwell: one must be reported and pass; the other is then not needed. */
function resolveAlternatives(judged: readonly GradeJudgement[]): readonly Judgement[] {
  return judged.flatMap(({ group, judgement }) => {
    if (group === undefined || isReported(judgement)) return [judgement];
    const members = judged.filter((other) => other.group === group).map((member) => member.judgement);
    const reported = members.find(isReported);
    if (reported) {
      const { reason: _reason, ...facts } = judgement;
      const says = { code: "alternative-reported", instead: reported.quantity } as const;
      return [{ ...facts, outcome: "not-applicable" as const, readings: [], says }];
    }
    const names = [...new Set(members.map((member) => member.quantity))].join(" or ");
    return members[0] === judgement ? [{ ...judgement, quantity: names }] : [];
  });
}

/** A limit whose own quantity was read; a reading on another scale is not one of it. */
function isReported({ quantity, readings }: Judgement): boolean {
  return readings.some((reading) => reading.quantity === quantity);
}
