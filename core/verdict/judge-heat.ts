import { type Certificate, CONFIDENCE_THRESHOLD, type Reading } from "../certificate/certificate.js";
import type { Doubt } from "../certificate/evidence.js";
import { numbered } from "../certificate/join-heats.js";
import type { JoinedHeat } from "../certificate/joined-heat.js";
import type { Library } from "../grades/grade.js";
import type { Requirement } from "../requirement/requirement.js";
import { joined } from "./collect.js";
import { dateContradictions, heatContradictions, reservationContradictions } from "./consistency/consistency.js";
import { DELIVERY_CONDITION, type Outcome } from "./finding.js";
import { gatherEvidence } from "./gather-evidence.js";
import type { HeatEvidence } from "./heat-evidence.js";
import { judgeDocumentType } from "./judge-document.js";
import { judgeGrade } from "./judge-grade.js";
import { judgeImpact } from "./judge-impact.js";
import { judgeLimit } from "./judge-limit.js";
import type { Judgement } from "./judgement.js";
import { projectMinimums } from "./project-limits.js";
import { type ResolvedGrade, resolveGrades } from "./resolve-grades.js";
import { worstOutcome } from "./worst.js";

export interface HeatInput {
  readonly heat: JoinedHeat;
  /** The certificates of the documents that name this heat. */
  readonly certificates: readonly Certificate[];
  readonly doubts: readonly Doubt[];
  /** Results beside the heat's own that may be this heat's. */
  readonly strays?: readonly StrayResults[];
  readonly requirement: Requirement | null;
  readonly library: Library;
}

export interface StrayResults {
  /** The heat they were read for, whose name is nearly this one's; absent where they could be given to no heat. */
  readonly of?: string;
  readonly readings: readonly Reading[];
}

export interface JudgedHeat {
  readonly verdict: Outcome;
  readonly grades: readonly ResolvedGrade[];
  readonly evidence: HeatEvidence;
  readonly judgements: readonly Judgement[];
}

/** Everything that one heat is held to: its grades, the project's limits and impact minimums, the document, its consistency. */
export function judgeHeat(input: HeatInput): JudgedHeat {
  const { heat, certificates, doubts, strays = [], requirement, library } = input;
  const evidence = gatherEvidence(heat, doubts, requirement);
  const { grades, judgements: gradeJudgements } = resolveGrades(library, requirement, heat.claims);
  const project = projectMinimums(requirement);
  const judgeAll = (of: HeatEvidence) =>
    joined([
      ...grades.map(({ grade }) => judgeGrade(grade, library.tolerances, of, requirement?.rounding)),
      ...project.limits.map((applied) => judgeLimit(applied, of)),
      ...project.demands.map((demand) => judgeImpact(demand, of)),
    ]);

  const own = judgeAll(evidence);
  const judged = strays.reduce(
    (lowered, stray) => loweredByStrays(lowered, judgeAll(asOwn(stray.readings, input)), stray.of),
    own,
  );
  const held = judged.length === 0 && gradeJudgements.length === 0 ? [nothingJudged()] : judged;
  const judgements = joined([
    gradeJudgements,
    doubts.length === 0 ? held : held.map((judgement) => loweredByDoubt(judgement, evidence)),
    strangeConditions(evidence),
    judgeDocumentType(requirement, certificates, heat.heat),
    heatNumberInDoubt(heat),
    heatContradictions(
      evidence,
      grades.map(({ grade }) => grade),
    ),
    dateContradictions(certificates),
    reservationContradictions(certificates),
  ]);
  return { verdict: worstOutcome(judgements.map(({ outcome }) => outcome)), grades, evidence, judgements };
}

/** A value of this heat that could not be read may be the one that fails, however good its neighbours are. */
function loweredByDoubt(judgement: Judgement, evidence: HeatEvidence): Judgement {
  const quantity = judgement.readings[0]?.quantity;
  const doubt = evidence.doubts.find((candidate) => candidate.heat !== undefined && candidate.quantity === quantity);
  if (judgement.outcome !== "pass" || quantity === undefined || !doubt) return judgement;
  return {
    ...judgement,
    outcome: "undetermined",
    reason: "low-confidence",
    says: { code: "doubted", doubt: doubt.message },
  };
}

/** As if the strays were all that is known of the heat, and known for certain. */
function asOwn(strays: readonly Reading[], { heat, requirement }: HeatInput): HeatEvidence {
  const readings = numbered(strays).map((reading) => ({ ...reading, confidence: 1 }));
  return gatherEvidence({ ...heat, readings }, [], requirement);
}

/** A pass stands if every stray result of its quantity passes too, whosever it is. */
function loweredByStrays(own: readonly Judgement[], ofStrays: readonly Judgement[], of?: string): Judgement[] {
  const short = ofStrays.filter(
    ({ outcome, readings }) => readings.length > 0 && (outcome === "fail" || outcome === "undetermined"),
  );
  return own.map((judgement) => {
    const quantity = judgement.readings[0]?.quantity;
    const stray = short.flatMap(({ readings }) => readings).find((reading) => reading.quantity === quantity);
    if (judgement.outcome !== "pass" || !stray) return judgement;
    const whose =
      of === undefined ? "could be given to no heat" : `was read for ${of}, which may be this heat by another name`;
    const doubt = `${JSON.stringify(stray.printed)} for ${stray.quantity} ${whose}; as one of this heat it would not pass.`;
    return { ...judgement, outcome: "undetermined", reason: "low-confidence", says: { code: "doubted", doubt } };
  });
}

/** Said beside the findings; where a limit hangs on the condition, that finding is undetermined by itself. */
function strangeConditions({ facts: { strangeConditions: words, condition } }: HeatEvidence): Judgement[] {
  if (words === undefined) return [];
  return [
    {
      outcome: "not-applicable",
      quantity: DELIVERY_CONDITION,
      readings: [],
      source: { standard: "product" },
      says: { code: "strange-condition", words, ...(condition !== undefined && { taken: condition }) },
      notes: [],
    },
  ];
}

/** Nothing judged is not a pass. */
function nothingJudged(): Judgement {
  return {
    outcome: "undetermined",
    reason: "nothing-judged",
    quantity: "grade",
    readings: [],
    source: { standard: "requirement" },
    says: { code: "nothing-judged" },
    notes: [],
  };
}

function heatNumberInDoubt(heat: JoinedHeat): Judgement[] {
  if (heat.confidence >= CONFIDENCE_THRESHOLD) return [];
  const says = { code: "low-confidence", confidence: heat.confidence } as const;
  return [
    {
      outcome: "undetermined",
      reason: "low-confidence",
      quantity: "heat number",
      readings: [],
      source: { standard: "certificate" },
      says,
      notes: [],
    },
  ];
}
