import { CONFIDENCE_THRESHOLD } from "../certificate/certificate.js";
import { type Decimal, formatDecimal, subtract } from "../quantity/decimal.js";
import { formatMeasure, type Measure } from "../quantity/measure.js";
import type { ImpactRule } from "../requirement/impact-rules.js";
import { judgeRetest, retestAllowed } from "../requirement/judge-retest.js";
import {
  isMeanBelow,
  judgeSet,
  type SetFault,
  type SetJudgement,
  type SetRequirement,
} from "../requirement/judge-set.js";
import { type FullSizeRequirement, subsizeRequirement } from "../requirement/subsize-requirement.js";
import type { UndeterminedReason } from "./finding.js";
import type { HeatEvidence } from "./heat-evidence.js";
import type { ImpactDemand } from "./impact-demand.js";
import { type ImpactSet, impactSets, valueIn } from "./impact-sets.js";
import type { BoundLimit, Judgement, Note, NumberedReading, Saying } from "./judgement.js";
import { isVerified } from "./known.js";

/** Holds the impact sets of one zone to what is demanded of them: energy by its rule, lateral expansion piece by piece. */
export function judgeImpact(demand: ImpactDemand, evidence: HeatEvidence): readonly Judgement[] {
  const energy = demand.average || demand.single ? judgeQuantity(demand, evidence, "KV") : [];
  const expansion = demand.lateralExpansion ? judgeQuantity(demand, evidence, "LE") : [];
  return [...energy, ...expansion].map((judgement) => ({ ...judgement, zone: demand.zone }));
}

function judgeQuantity(demand: ImpactDemand, evidence: HeatEvidence, quantity: "KV" | "LE"): readonly Judgement[] {
  const { sets, refused } = impactSets(demand, evidence, quantity);
  if (sets.length === 0) {
    const says: Saying =
      refused.length > 0
        ? { code: "only-elsewhere", where: refused.map(({ because }) => because).join("; ") }
        : { code: "not-reported", what: describe(demand) };
    const readings = refused.flatMap((set) => set.readings);
    return [undetermined(demand, quantity, "not-reported", says, readings)];
  }
  const first = sets.filter((set) => !set.retest);
  const further = sets.filter((set) => set.retest);
  return (first.length > 0 ? first : further).flatMap((set) => judgeOneSet(demand, quantity, set, further));
}

function judgeOneSet(
  demand: ImpactDemand,
  quantity: "KV" | "LE",
  set: ImpactSet,
  further: readonly ImpactSet[],
): readonly Judgement[] {
  const readings = [...set.singles, ...(set.statedAverage ? [set.statedAverage] : [])];
  const doubt = (reason: UndeterminedReason, says: Saying) => [undetermined(demand, quantity, reason, says, readings)];

  const confidence = Math.min(...readings.map((reading) => reading.confidence));
  if (confidence < CONFIDENCE_THRESHOLD) return doubt("low-confidence", { code: "low-confidence", confidence });

  const full = fullSizeMinimums(demand, quantity);
  const required = set.subsizeWidth ? subsizeMinimums(demand, quantity, set.subsizeWidth, full) : full;
  if ("reason" in required) return doubt("not-comparable", { code: "impact-set", fault: required.reason });
  const unit = (required.average ?? required.single)!.unit;

  const bounded = set.singles.find((single) => single.bound !== undefined);
  if (bounded) return doubt("bound-not-decisive", { code: "bound-not-decisive", bound: bounded.printed });
  const values = set.singles.map((single) => valueIn(single, unit));
  if (!values.every((value) => value !== undefined)) {
    return doubt("not-comparable", { code: "impact-set", fault: "energy per area needs the width of the test pieces" });
  }

  const context = { demand, quantity, set, unit, required, notes: notesOf(demand, set) };
  if (values.length === 0) return judgeStatedAverageOnly(context);
  const requirement = setRequirement(required, demand);
  const judged = judgeSet(quantity === "LE" ? eachPiece(demand.rule) : demand.rule, requirement, values);
  const findings = findingsOfSet(context, judged);
  return judged.outcome === "fail" ? afterRetest(context, requirement, values, further, findings) : findings;
}

/** Lateral expansion is judged piece by piece, whatever the rule says of the mean of energies. */
function eachPiece(rule: ImpactRule): ImpactRule {
  const { singleShare: _share, belowAverageAllowed: _allowed, ...rest } = rule;
  return { ...rest, average: "none" };
}

interface SetContext {
  readonly demand: ImpactDemand;
  readonly quantity: "KV" | "LE";
  readonly set: ImpactSet;
  readonly unit: Measure["unit"];
  readonly required: FullSizeRequirement;
  readonly notes: readonly Note[];
}

function fullSizeMinimums(demand: ImpactDemand, quantity: "KV" | "LE"): FullSizeRequirement {
  if (quantity === "LE") return { single: demand.lateralExpansion! };
  return { ...(demand.average && { average: demand.average }), ...(demand.single && { single: demand.single }) };
}

/** Lateral expansion is asked of every width alike (ASME B31.3, VIII); energy of sub-size pieces needs the rule that is named. */
function subsizeMinimums(demand: ImpactDemand, quantity: "KV" | "LE", width: Measure, full: FullSizeRequirement) {
  if (quantity === "LE") return full;
  if (!demand.subsize) {
    return {
      reason: `the pieces are ${formatMeasure(width)} wide and the requirement names no rule for sub-size pieces`,
    };
  }
  const required = subsizeRequirement(demand.subsize, width, full);
  if ("reason" in required) return required;
  return required.colderBy
    ? { reason: `${demand.subsize.name} asks for a test colder by ${formatMeasure(required.colderBy)} at this width` }
    : required;
}

function setRequirement(required: FullSizeRequirement, demand: ImpactDemand): SetRequirement {
  return {
    ...(required.average && { average: required.average.value }),
    ...(required.single && { single: required.single.value }),
    rounding: demand.rounding,
  };
}

/** One finding for the mean, one for the lowest piece: an inspector wants to see both, and which of them failed. */
function findingsOfSet(context: SetContext, judged: SetJudgement): readonly Judgement[] {
  const { required, quantity } = context;
  const reason = judged.outcome === "undetermined" ? judged.reason : undefined;
  const findings: Judgement[] = [];
  if (required.average && quantity === "KV" && judged.average) {
    findings.push(
      finding(
        context,
        "average",
        required.average.value,
        judged.judgedAverage ?? judged.average,
        judged.faults,
        reason,
      ),
    );
  }
  if (judged.lowest && judged.singleMinimum) {
    findings.push(finding(context, "single", judged.singleMinimum, judged.lowest, judged.faults, reason));
  }
  return findings.length > 0
    ? findings
    : [
        undetermined(
          context.demand,
          quantity,
          "test-incomplete",
          { code: "impact-set", fault: FAULTS[reason ?? "pieces-missing"] },
          context.set.singles,
        ),
      ];
}

const FAULTS = {
  "pieces-missing": "pieces of the set are missing",
  "pieces-too-many": "more pieces than one set has: which of them count is not stated",
  "single-not-stated": "no minimum for single values is stated",
  "required-not-stated": "no required value is stated",
} as const;

function finding(
  context: SetContext,
  statistic: "average" | "single",
  minimum: Decimal,
  judged: Decimal,
  faults: readonly SetFault[],
  reason: SetJudgement["reason"],
): Judgement {
  const { demand, quantity, set, unit } = context;
  const ofThis: readonly SetFault[] =
    statistic === "average" ? ["average-low", "too-many-below-average"] : ["single-low"];
  const failed = faults.some((fault) => ofThis.includes(fault));
  const facts = {
    quantity: quantity === "LE" ? "LE" : `KV ${statistic}`,
    readings: set.singles,
    judged,
    unit,
    limit: minimumLimit(demand, quantity === "LE" ? "LE" : `KV ${statistic}`, minimum, unit, statistic),
    source: demand.source,
    margin: subtract(judged, minimum),
    notes: context.notes,
  };
  if (failed && !isVerified(demand.source.known)) {
    return {
      ...facts,
      outcome: "undetermined",
      reason: "reference-unverified",
      says: { code: "unverified", side: "below" },
    };
  }
  if (failed) {
    const tooMany = statistic === "average" && !faults.includes("average-low");
    return {
      ...facts,
      outcome: "fail",
      says: tooMany ? { code: "impact-set", fault: TOO_MANY } : { code: "compared" },
    };
  }
  if (reason !== undefined) {
    return {
      ...facts,
      outcome: "undetermined",
      reason: "test-incomplete",
      says: { code: "impact-set", fault: FAULTS[reason] },
    };
  }
  const notes: readonly Note[] = isVerified(demand.source.known)
    ? context.notes
    : [...context.notes, { code: "unverified-pass" }];
  return { ...facts, outcome: "pass", says: { code: "compared" }, notes };
}

const TOO_MANY = "more than one piece is below the required average";

/** Only the mean is printed: it decides itself, the pieces stay unknown. */
function judgeStatedAverageOnly(context: SetContext): readonly Judgement[] {
  const { demand, quantity, set, unit, required } = context;
  const average = set.statedAverage && valueIn(set.statedAverage, unit);
  const missing = undetermined(demand, quantity, "not-reported", { code: "not-reported", what: "single values" }, []);
  if (!average || !required.average || set.statedAverage?.bound !== undefined) return [missing];
  const low = isMeanBelow([average], required.average.value, demand.rounding);
  const held = finding(
    { ...context, set: { ...set, singles: [set.statedAverage!] } },
    "average",
    required.average.value,
    average,
    low ? ["average-low"] : [],
    undefined,
  );
  return [held, missing];
}

/** A failed set may be repaired by a retest where the rule has one; what the rule leaves open goes to a person. */
function afterRetest(
  context: SetContext,
  required: SetRequirement,
  first: readonly Decimal[],
  further: readonly ImpactSet[],
  findings: readonly Judgement[],
): readonly Judgement[] {
  const { demand, quantity, unit, set } = context;
  const allowance = retestAllowed(demand.rule, required, first);
  if (further.length === 0 || set.retest) {
    const note: Note = {
      code: "text",
      text: `Retest: ${allowance.allowed === "person" ? "for a person to decide" : allowance.allowed === "yes" ? "allowed" : "not allowed"}, ${allowance.because}.`,
    };
    return demand.rule.retest
      ? findings.map((item) => (item.outcome === "fail" ? { ...item, notes: [...item.notes, note] } : item))
      : findings;
  }
  const singles = further.flatMap((retest) => retest.singles);
  const values = singles.map((single) => valueIn(single, unit));
  const readings = [...set.singles, ...singles];
  if (allowance.allowed !== "yes" || !values.every((value) => value !== undefined)) {
    if (allowance.allowed === "no") return findings;
    return [
      undetermined(demand, quantity, "retest-needed", { code: "impact-set", fault: allowance.because }, readings),
    ];
  }
  const retest = judgeRetest(demand.rule, required, first, values);
  const verified = isVerified(demand.rule.known) && isVerified(demand.source.known);
  if (retest.outcome === "fail") return findings.map((item) => ({ ...item, readings }));
  if (retest.outcome === "undetermined" || !verified) {
    const fault =
      retest.outcome === "undetermined"
        ? retest.because
        : `the retest passes by ${demand.rule.name}, a rule that is not verified`;
    return [undetermined(demand, quantity, "retest-needed", { code: "impact-set", fault }, readings)];
  }
  return findings.map((item) => ({
    ...item,
    outcome: "pass" as const,
    readings,
    notes: [...item.notes, { code: "text" as const, text: `Passed on retest: ${retest.because}.` }],
  }));
}

function notesOf(demand: ImpactDemand, set: ImpactSet): readonly Note[] {
  const notes: Note[] = [];
  if (set.singles.some((single) => single.zone === undefined) && demand.zone === "base")
    notes.push({ code: "zone-not-stated" });
  if (!set.widthStated)
    notes.push({
      code: "text",
      text: "The size of the test pieces is not stated; held to the full-size minimums, the harder case.",
    });
  if (set.subsizeWidth && demand.subsize) {
    notes.push({
      code: "text",
      text: `Sub-size ${formatMeasure(set.subsizeWidth)}: minimums by ${demand.subsize.name}.`,
    });
  }
  return notes;
}

function undetermined(
  demand: ImpactDemand,
  quantity: "KV" | "LE",
  reason: UndeterminedReason,
  says: Saying,
  readings: readonly NumberedReading[],
): Judgement {
  const minimum = quantity === "LE" ? demand.lateralExpansion : (demand.average ?? demand.single);
  return {
    outcome: "undetermined",
    reason,
    quantity,
    readings,
    ...(minimum && { limit: minimumLimit(demand, quantity, minimum.value, minimum.unit) }),
    source: demand.source,
    says,
    notes: [],
  };
}

function minimumLimit(
  demand: ImpactDemand,
  quantity: string,
  min: Decimal,
  unit: Measure["unit"],
  part?: string,
): BoundLimit {
  return {
    id:
      part === undefined || demand.holder !== undefined
        ? demand.id
        : `${demand.id}/${quantity === "LE" ? "lateralExpansion" : part}`,
    quantity,
    min,
    unit,
    source: demand.source,
    ...(demand.holder !== undefined && { holder: demand.holder }),
  };
}

function describe(demand: ImpactDemand): string {
  const direction = demand.orientation ? `, ${demand.orientation}` : "";
  return `${demand.zone} at ${formatDecimal(demand.temperature.value)} ${demand.temperature.unit}${direction}`;
}
