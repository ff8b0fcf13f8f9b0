import type { Analysis, NumberedReading } from "../certificate/certificate.js";
import type { Limit } from "../grades/grade.js";
import { formulasOf } from "../metallurgy/formulas.js";
import { isMeasuredIndex, kindOf } from "../quantity/quantity.js";
import { type AppliedLimit, labelOf, printedLimit } from "./applied-limit.js";
import { chemistryCandidates } from "./chemistry-candidates.js";
import { type Candidate, conclude } from "./conclude.js";
import { isTestOfZone } from "./conditions.js";
import type { UndeterminedReason } from "./finding.js";
import { analysisOf, doubtAbout, type HeatEvidence } from "./heat-evidence.js";
import { judgeFormula } from "./judge-formula.js";
import type { Judgement, Saying } from "./judgement.js";
import { mechanicalCandidates } from "./mechanical-candidates.js";
import { straddles } from "./straddle.js";

/** Holds one limit against all readings that speak to it. A chemistry limit gives one judgement for each analysis reported. */
export function judgeLimit(applied: AppliedLimit, evidence: HeatEvidence): readonly Judgement[] {
  const { limit } = applied;
  if (limit.formula !== undefined || kindOf(limit.quantity) === "index") return judgeIndex(applied, evidence);
  if (kindOf(limit.quantity) !== "chemistry") return [judgeMechanical(applied, evidence)];
  // A standard bounds the product analysis where one is made; a project that names it wants one.
  const wanted = applied.holder === undefined ? "always" : "when-reported";
  if (limit.analysis === "product") return judgeAnalysis(applied, evidence, "product", wanted);

  const heat = judgeAnalysis(applied, evidence, "heat", "always");
  if (!evidence.readings.some((reading) => analysisOf(reading) === "product")) return heat;
  const product = applied.hasOwnProductLimit ? [] : judgeAnalysis(applied, evidence, "product", "when-reported");
  const straddling = straddles(applied, evidence);
  return product.length + straddling.length === 0 ? heat : [...heat, ...product, ...straddling];
}

/**
 * A measured index (a Ferrite Number by instrument) goes before one that is computed. A limit that names no analysis bounds what
 * every complete analysis gives.
 */
function judgeIndex(applied: AppliedLimit, evidence: HeatEvidence): readonly Judgement[] {
  const { limit } = applied;
  if (limit.reportOnly || isHeldAsMeasured(limit, evidence)) return [judgeMechanical(applied, evidence)];
  const found = judgeFormula(applied, evidence, limit.analysis ?? "heat");
  const own = "outcome" in found ? found : undetermined(applied, evidence, found.reason, found.says, []);
  const product = limit.analysis === undefined ? judgeFormula(applied, evidence, "product") : undefined;
  return product && "outcome" in product ? [own, product] : [own];
}

function isHeldAsMeasured({ quantity, formula, when }: Limit, { readings }: HeatEvidence): boolean {
  if (!isMeasuredIndex(quantity)) return false;
  const isMeasured = readings.some(
    (reading) => reading.quantity === quantity && isTestOfZone(quantity, when?.zone, reading.zone),
  );
  return isMeasured || (formula === undefined && formulasOf(quantity).length === 0);
}

function judgeMechanical(applied: AppliedLimit, evidence: HeatEvidence): Judgement {
  const found = mechanicalCandidates(applied, evidence);
  if (found.kind === "none") return undetermined(applied, evidence, found.reason, found.says, found.readings);
  if (applied.limit.reportOnly)
    return reported(
      applied,
      found.candidates.flatMap((candidate) => candidate.readings),
    );
  const isRetest = ({ readings }: Candidate) => readings[0]?.retest === true;
  if (!found.candidates.some(isRetest)) return conclude(applied, found.candidates);
  const first = found.candidates.filter((candidate) => !isRetest(candidate));
  const further = found.candidates.filter(isRetest);
  return withRetest(first.length === 0 ? undefined : conclude(applied, first), conclude(applied, further));
}

/**
 * Product standards differ in when a tensile or hardness test may be repeated, and none of their rules is held here: a retest
 * that meets what the first test missed goes to a person. It may fail what the first test passed.
 */
function withRetest(first: Judgement | undefined, retest: Judgement): Judgement {
  if (retest.outcome === "fail") return retest;
  const readings = [...(first?.readings ?? []), ...retest.readings];
  if (first === undefined) {
    const says = { code: "only-retest" } as const;
    return { ...retest, outcome: "undetermined", reason: "retest-needed", says };
  }
  if (first.outcome !== "fail") return retest.outcome === "pass" ? { ...first, readings } : retest;
  return { ...first, readings, outcome: "undetermined", reason: "retest-needed", says: { code: "retest-open" } };
}

function judgeAnalysis(
  applied: AppliedLimit,
  evidence: HeatEvidence,
  analysis: Analysis,
  wanted: "always" | "when-reported",
): readonly Judgement[] {
  const { candidates, missing } = chemistryCandidates(applied, evidence, analysis);
  const own = missing.includes(applied.limit.quantity) && applied.limit.sumOf === undefined;
  if (candidates.length === 0) {
    const noPart = applied.limit.sumOf?.every((element) => missing.includes(element));
    if (wanted === "when-reported" && (own || noPart)) return [];
    const says: Saying = own
      ? { code: "not-reported" }
      : { code: "operand-missing", of: labelOf(applied.limit), missing };
    return [undetermined(applied, evidence, "not-reported", says, [])];
  }
  if (applied.limit.reportOnly)
    return [
      reported(
        applied,
        candidates.flatMap((candidate) => candidate.readings),
      ),
    ];

  const judgement = conclude(applied, candidates);
  if (missing.length === 0 || judgement.outcome === "fail") return [judgement];
  // A sum with an element missing decides only where the rest already exceeds the maximum.
  const says: Saying = { code: "operand-missing", of: labelOf(applied.limit), missing };
  return [undetermined(applied, evidence, "not-reported", says, judgement.readings)];
}

/** A value was wanted and none can be held against the limit. A doubt about that very quantity is the better reason. */
export function undetermined(
  applied: AppliedLimit,
  evidence: HeatEvidence,
  reason: UndeterminedReason,
  says: Saying,
  readings: readonly NumberedReading[],
): Judgement {
  const limit = printedLimit(applied, "si");
  const doubt = readings.length === 0 ? doubtAbout(evidence, applied.limit.quantity) : undefined;
  return {
    outcome: "undetermined",
    reason: doubt ? (doubt.code === "unit-unknown" ? "unit-unknown" : "low-confidence") : reason,
    quantity: limit.quantity,
    readings,
    limit,
    source: applied.source,
    says: doubt ? { code: "doubted", doubt: doubt.message } : says,
    notes: [],
  };
}

function reported(applied: AppliedLimit, readings: readonly NumberedReading[]): Judgement {
  const quantity = labelOf(applied.limit);
  return { outcome: "pass", quantity, readings, source: applied.source, says: { code: "reported" }, notes: [] };
}
