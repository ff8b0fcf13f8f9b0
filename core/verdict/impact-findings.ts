import type { NumberedReading } from "../certificate/certificate.js";
import { type Decimal, subtract } from "../quantity/decimal.js";
import type { Rounding } from "../quantity/rounding.js";
import type { Unit } from "../quantity/unit.js";
import { isMeanBelow, type SetFault, type SetJudgement } from "../requirement/judge-set.js";
import type { FullSizeRequirement } from "../requirement/subsize-requirement.js";
import type { UndeterminedReason } from "./finding.js";
import type { ImpactDemand } from "./impact-demand.js";
import { type ImpactSet, valueIn } from "./impact-sets.js";
import type { BoundLimit, Judgement, LimitSource, Note, Saying } from "./judgement.js";
import { isSourceVerified } from "./known.js";
import { methodsPart } from "./methods-part.js";
import { keptWith } from "./remembered.js";

export type ImpactQuantity = "KV" | "LE";

/** One set about to be judged, with its minimums already fitted to its size. */
export interface SetContext {
  readonly demand: ImpactDemand;
  readonly rounding: Rounding;
  readonly quantity: ImpactQuantity;
  readonly set: ImpactSet;
  readonly unit: Unit;
  readonly required: FullSizeRequirement;
  /** Where the minimum of each kind comes from, with the rule that computes it. */
  readonly sources: { readonly average: LimitSource; readonly single: LimitSource };
  readonly notes: readonly Note[];
  /** The same set by the other method of ASTM E29; absent where the minimum is computed and nothing is rounded to it. */
  readonly otherMethod?: SetJudgement;
}

/** One finding for the mean, one for the lowest piece: an inspector wants to see both, and which of them failed. */
export function findingsOfSet(context: SetContext, judged: SetJudgement): readonly Judgement[] {
  const { required, quantity, demand, set } = context;
  const { faults, reason } = judged;
  const parts: SetPart[] = [];
  if (required.average && judged.average && quantity === "KV") {
    const value = judged.judgedAverage ?? judged.average;
    parts.push({ statistic: "average", minimum: required.average.value, judged: value, faults, reason });
  }
  if (judged.lowest && judged.singleMinimum) {
    const value = judged.judgedLowest ?? judged.lowest;
    parts.push({ statistic: "single", minimum: judged.singleMinimum, judged: value, faults, reason });
  }
  if (parts.length > 0) return parts.map((part) => finding(context, part));
  const fault = FAULTS[reason ?? "pieces-missing"];
  return [undecidedImpact(demand, quantity, "test-incomplete", { code: "impact-set", fault }, set.singles)];
}

const FAULTS = {
  "pieces-missing": "pieces of the set are missing",
  "pieces-too-many": "more pieces than one set has: which of them count is not stated",
  "single-not-stated": "no minimum for single values is stated",
  "required-not-stated": "no required value is stated",
} as const;

interface SetPart {
  readonly statistic: "average" | "single";
  readonly minimum: Decimal;
  readonly judged: Decimal;
  readonly faults: readonly SetFault[];
  readonly reason: SetJudgement["reason"];
}

const FAULTS_OF: Readonly<Record<SetPart["statistic"], readonly SetFault[]>> = {
  average: ["average-low", "too-many-below-average"],
  single: ["single-low"],
};

function finding(context: SetContext, { statistic, minimum, judged, faults, reason }: SetPart): Judgement {
  const { demand, quantity, set, unit } = context;
  const name = quantity === "LE" ? "LE" : NAMES[statistic];
  // How many pieces may lie below the average is the rule's to say, whoever states the average.
  const isCount =
    statistic === "average" && faults.includes("too-many-below-average") && !faults.includes("average-low");
  const source = isCount ? byRule(context) : context.sources[statistic];
  const facts = {
    quantity: name,
    zone: demand.zone,
    readings: set.singles,
    judged,
    unit,
    limit: minimumLimit(demand, name, minimum, unit),
    source,
    margin: subtract(judged, minimum),
    notes: context.notes,
  };
  const hasFailed = hasFault(statistic, faults);
  const parted = methodsNote(context, statistic, hasFailed);
  const notes = parted ? [...context.notes, parted] : context.notes;
  const isVerified = isSourceVerified(source);
  if (hasFailed && !isVerified) {
    return {
      ...facts,
      outcome: "undetermined",
      reason: "reference-unverified",
      says: { code: "unverified", side: "below" },
    };
  }
  if (hasFailed) {
    const fault = "more than one piece is below the required average";
    return { ...facts, notes, outcome: "fail", says: isCount ? { code: "impact-set", fault } : COMPARED };
  }
  if (reason !== undefined) {
    const says = { code: "impact-set", fault: FAULTS[reason] } as const;
    return { ...facts, outcome: "undetermined", reason: "test-incomplete", says };
  }
  const marked: readonly Note[] = isVerified ? notes : [...notes, { code: "unverified-pass" }];
  return { ...facts, outcome: "pass", says: COMPARED, notes: marked };
}

const NAMES: Readonly<Record<SetPart["statistic"], string>> = { average: "KV average", single: "KV single" };
const COMPARED = { code: "compared" } as const;

function hasFault(statistic: SetPart["statistic"], faults: readonly SetFault[]): boolean {
  return faults.some((fault) => FAULTS_OF[statistic].includes(fault));
}

function methodsNote(
  { rounding, otherMethod }: SetContext,
  statistic: SetPart["statistic"],
  failed: boolean,
): Note | undefined {
  if (!otherMethod || hasFault(statistic, otherMethod.faults) === failed) return undefined;
  return failed ? methodsPart(rounding, "fail", "pass") : methodsPart(rounding, "pass", "fail");
}

function byRule({ demand: { source, rule } }: SetContext): LimitSource {
  return { ...source, by: { name: rule.name, known: rule.known } };
}

/** Only the mean is printed: it decides itself, the pieces stay unknown. */
export function judgeStatedAverage(context: SetContext): readonly Judgement[] {
  const { demand, quantity, set, unit, required } = context;
  const missing = undecidedImpact(
    demand,
    quantity,
    "not-reported",
    { code: "not-reported", what: "single values" },
    [],
  );
  const stated = set.statedAverage;
  const average = stated && valueIn(stated, unit);
  if (!average || !required.average || stated.bound !== undefined) return [missing];

  const minimum = required.average.value;
  const faults: readonly SetFault[] = isMeanBelow([average], minimum, context.rounding) ? ["average-low"] : [];
  const asStated = { ...context, set: { ...set, singles: [stated] } };
  return [finding(asStated, { statistic: "average", minimum, judged: average, faults, reason: undefined }), missing];
}

export function undecidedImpact(
  demand: ImpactDemand,
  quantity: ImpactQuantity,
  reason: UndeterminedReason,
  says: Saying,
  readings: readonly NumberedReading[],
): Judgement {
  const minimum = quantity === "LE" ? demand.lateralExpansion : (demand.average ?? demand.single);
  return {
    outcome: "undetermined",
    reason,
    quantity,
    zone: demand.zone,
    readings,
    ...(minimum && { limit: minimumLimit(demand, quantity, minimum.value, minimum.unit) }),
    source: demand.source,
    says,
    notes: [],
  };
}

const PARTS: Readonly<Record<string, string>> = {
  LE: "/lateralExpansion",
  "KV average": "/average",
  "KV single": "/single",
};

function minimumLimit(demand: ImpactDemand, quantity: string, min: Decimal, unit: Unit): BoundLimit {
  const kept = keptWith(LIMITS, demand, () => new Map<string, BoundLimit>());
  const known = kept.get(quantity);
  // A sub-size piece has a minimum of its own.
  if (known?.min === min && known.unit === unit) return known;
  const limit: BoundLimit = {
    // A grade's limit has its own id; a requirement's impact entry holds several minimums.
    id: demand.holder === undefined ? `${demand.id}${PARTS[quantity] ?? ""}` : demand.id,
    quantity,
    min,
    unit,
    source: demand.source,
    ...(demand.holder !== undefined && { holder: demand.holder }),
  };
  kept.set(quantity, limit);
  return limit;
}

/** The last minimum of each kind that was shown of a demand: heats of one submission are mostly tested alike. */
const LIMITS = new WeakMap<ImpactDemand, Map<string, BoundLimit>>();
