import type { LibraryGrade, ToleranceTable } from "../grades/grade.js";
import type { Rounding } from "../quantity/rounding.js";
import { joined } from "./collect.js";
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
  const judged = brackets.map((bracket) => ({
    group: bracket.first.limit.group,
    judgements: judgeBracket(bracket, own),
  }));
  const judgements = joined(
    judged.map((one) => (one.group === undefined ? one.judgements : resolveAlternatives(one, judged))),
  );
  return coversForm ? judgements : [formNotCovered(library, evidence), ...judgements];
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

interface JudgedBracket {
  readonly group: string | undefined;
  readonly judgements: readonly Judgement[];
}

/** Brinell or Rockwell: one must be reported and pass; the other is then not needed. */
function resolveAlternatives(
  { group, judgements }: JudgedBracket,
  judged: readonly JudgedBracket[],
): readonly Judgement[] {
  const members = judged.filter((other) => other.group === group).flatMap((member) => member.judgements);
  const reported = members.find(isReported);
  return judgements.flatMap((judgement) => {
    if (isReported(judgement)) return [judgement];
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
