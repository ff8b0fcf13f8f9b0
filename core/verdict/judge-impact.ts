import { CONFIDENCE_THRESHOLD, type NumberedReading, type Zone } from "../certificate/certificate.js";
import { compare, type Decimal } from "../quantity/decimal.js";
import { formatMeasure, type Measure } from "../quantity/measure.js";
import { otherMethod, type Rounding } from "../quantity/rounding.js";
import { type ImpactRule, impactRule } from "../requirement/impact-rules.js";
import { judgeSet, type SetJudgement, type SetRequirement } from "../requirement/judge-set.js";
import { type FullSizeRequirement, subsizeRequirement } from "../requirement/subsize-requirement.js";
import { joined, select } from "./collect.js";
import type { UndeterminedReason } from "./finding.js";
import { type HeatEvidence, leastConfidence } from "./heat-evidence.js";
import type { ImpactDemand } from "./impact-demand.js";
import {
  findingsOfSet,
  type ImpactQuantity,
  judgeStatedAverage,
  type SetContext,
  undecidedImpact,
} from "./impact-findings.js";
import { afterRetest, type FailedSet } from "./impact-retest.js";
import { type ImpactSet, impactSets, valueIn } from "./impact-sets.js";
import type { Judgement, Note, Saying } from "./judgement.js";
import { isVerified } from "./known.js";
import { keptWith } from "./remembered.js";

/** Holds the impact sets of one zone to what is demanded of them: energy by its rule, lateral expansion piece by piece. */
export function judgeImpact(demand: ImpactDemand, evidence: HeatEvidence): readonly Judgement[] {
  const energy = demand.average || demand.single ? judgeQuantity(demand, evidence, "KV") : NONE;
  const expansion = demand.lateralExpansion ? judgeQuantity(demand, evidence, "LE") : NONE;
  return joined([energy, expansion]);
}

const NONE: readonly never[] = [];

function judgeQuantity(demand: ImpactDemand, evidence: HeatEvidence, quantity: ImpactQuantity): readonly Judgement[] {
  const { sets, refused } = impactSets(demand, evidence, quantity);
  const undecided = (reason: UndeterminedReason, says: Saying, among: readonly ImpactSet[] | typeof refused) => [
    undecidedImpact(
      demand,
      quantity,
      reason,
      says,
      among.flatMap((set) => ("readings" in set ? set.readings : set.singles)),
    ),
  ];
  if (sets.length === 0 && refused.length > 0) {
    const where = refused.map(({ because }) => because).join("; ");
    return undecided("not-reported", { code: "only-elsewhere", where }, refused);
  }
  if (sets.length === 0) return undecided("not-reported", { code: "not-reported", what: describe(demand) }, []);

  const first = select(sets, (set) => !set.retest);
  const further = select(sets, (set) => set.retest);
  if (first.length === 0) {
    const fault = "only a retest is reported, the set that it repeats is not";
    return undecided("retest-needed", { code: "impact-set", fault }, further);
  }
  const judged = first.map((set) => judgeOneSet(demand, quantity, set));
  const failed = select(judged, ({ failure }) => failure !== undefined);
  if (failed.length === 0) {
    // Without a failure there is nothing to repeat: the further pieces are tests like the others.
    const others = further.map((set) => judgeOneSet(demand, quantity, set));
    return joined([...judged, ...others].map(({ findings }) => findings));
  }
  return judged.flatMap(({ findings, failure }) => {
    if (!failure) return findings;
    if (further.length === 0 || failed.length === 1) return afterRetest(failure, further, findings);
    const fault = "a retest is reported and several sets failed: which of them it repeats is not stated";
    return undecided("retest-needed", { code: "impact-set", fault }, [failure.context.set, ...further]);
  });
}

interface JudgedSet {
  readonly findings: readonly Judgement[];
  readonly failure?: FailedSet;
}

function judgeOneSet(demand: ImpactDemand, quantity: ImpactQuantity, set: ImpactSet): JudgedSet {
  const readings = set.statedAverage ? [...set.singles, set.statedAverage] : set.singles;
  const undecided = (reason: UndeterminedReason, says: Saying): JudgedSet => ({
    findings: [undecidedImpact(demand, quantity, reason, says, readings)],
  });
  const confidence = leastConfidence(readings);
  if (confidence < CONFIDENCE_THRESHOLD) return undecided("low-confidence", { code: "low-confidence", confidence });

  const required = minimums(demand, quantity, set);
  if ("reason" in required) return undecided("not-comparable", { code: "impact-set", fault: required.reason });
  const unit = (required.average ?? required.single)!.unit;
  const values = set.singles.map((single) => valueIn(single, unit));
  if (!values.every((value) => value !== undefined)) {
    const fault = "energy per area needs the width of the test pieces";
    return undecided("not-comparable", { code: "impact-set", fault });
  }

  // A minimum that a sub-size rule computes has no printed last place, so nothing is rounded to it.
  const isComputed = required.kind === "computed";
  const rounding = isComputed ? "absolute" : demand.rounding;
  const context: SetContext = {
    demand,
    rounding,
    quantity,
    set,
    unit,
    required,
    sources: sourcesOf(demand, set, quantity),
    notes: notesOf(demand, set),
  };
  if (values.length === 0) return { findings: judgeStatedAverage(context) };
  const rule = quantity === "LE" ? eachPiece(demand.rule) : demand.rule;
  const by = (method: Rounding) => judgeSet(rule, setRequirement(required, method), values);
  const judged = by(rounding);
  const bounded = set.singles.filter((single) => single.bound !== undefined);
  if (bounded.length > 0 && !decidesAtBounds(bounded, judged)) {
    return undecided("bound-not-decisive", { code: "bound-not-decisive", bound: bounded[0]!.printed });
  }
  const byOther = isComputed || areAllAbove(values, required) ? undefined : by(otherMethod(rounding));
  const findings = findingsOfSet(byOther ? { ...context, otherMethod: byOther } : context, judged);
  if (judged.outcome !== "fail") return { findings };
  return { findings, failure: { context, rule, required: setRequirement(required, rounding), values } };
}

/** Pieces that all reach the printed minimums, and so their mean, do so however they are rounded: the two methods agree. */
function areAllAbove(values: readonly Decimal[], { average, single }: FullSizeRequirement): boolean {
  return values.every(
    (value) => (!average || compare(value, average.value) >= 0) && (!single || compare(value, single.value) >= 0),
  );
}

/** A set passes where the least that its pieces can have passes (">300"), and fails where the most that they can have fails. */
function decidesAtBounds(bounded: readonly NumberedReading[], { outcome }: SetJudgement): boolean {
  if (outcome === "pass") return bounded.every(({ bound }) => bound!.startsWith(">"));
  return outcome === "fail" && bounded.every(({ bound }) => bound!.startsWith("<"));
}

const EACH_SPECIMEN = impactRule("each specimen")!;

/** Lateral expansion is judged piece by piece and has a retest of its own, whatever the rule says of energies. */
function eachPiece({ pieces }: ImpactRule): ImpactRule {
  return { ...EACH_SPECIMEN, pieces };
}

/** Lateral expansion is asked of every width alike (ASME B31.3, VIII); energy of sub-size pieces needs the rule that is named. */
function minimums(
  demand: ImpactDemand,
  quantity: ImpactQuantity,
  set: ImpactSet,
): (FullSizeRequirement & { readonly kind?: "computed" | "printed" }) | { readonly reason: string } {
  if (set.oversizeWidth) {
    return {
      reason: `pieces ${formatMeasure(set.oversizeWidth)} wide are wider than the standard test piece of 10 mm`,
    };
  }
  if (quantity === "LE") return keptWith(EXPANSIONS, demand, () => ({ single: demand.lateralExpansion! }));
  const full = keptWith(ENERGIES, demand, () => ({
    ...(demand.average && { average: demand.average }),
    ...(demand.single && { single: demand.single }),
  }));
  return set.subsizeWidth ? subsizeMinimums(demand, set.subsizeWidth, full) : full;
}

/** A demand's minimums for full-size pieces are the same for every set. */
const ENERGIES = new WeakMap<ImpactDemand, FullSizeRequirement>();
const EXPANSIONS = new WeakMap<ImpactDemand, FullSizeRequirement>();

function subsizeMinimums(demand: ImpactDemand, width: Measure, full: FullSizeRequirement) {
  if (!demand.subsize) {
    return { reason: `the pieces are ${formatMeasure(width)} wide and no rule for sub-size pieces is named` };
  }
  const required = subsizeRequirement(demand.subsize, width, full);
  if ("reason" in required || required.colderBy === undefined) return required;
  return {
    reason: `${demand.subsize.name} asks for a test colder by ${formatMeasure(required.colderBy)} at this width`,
  };
}

/**
 * A required average is the requirement's own number. A floor for singles that the rule computes, and every minimum of a sub-size
 * piece, are only as good as the rule that gives them.
 */
function sourcesOf(demand: ImpactDemand, set: ImpactSet, quantity: ImpactQuantity): SetContext["sources"] {
  // Lateral expansion is held to the printed minimum at every width.
  if (quantity === "LE") return { average: demand.source, single: demand.source };
  if (set.subsizeWidth === undefined) return keptWith(FULL_SIZE_SOURCES, demand, () => sourcesOfEnergy(demand, set));
  return sourcesOfEnergy(demand, set);
}

const FULL_SIZE_SOURCES = new WeakMap<ImpactDemand, SetContext["sources"]>();

function sourcesOfEnergy({ source, subsize, single, rule }: ImpactDemand, set: ImpactSet): SetContext["sources"] {
  const bySize = set.subsizeWidth !== undefined && subsize ? { name: subsize.name, known: subsize.known } : undefined;
  const byRule = single === undefined ? { name: rule.name, known: rule.known } : undefined;
  const rules = [bySize, byRule].filter((by) => by !== undefined);
  // The single minimum is known no better than the less known of the two.
  const weaker = rules.find(({ known }) => !isVerified(known)) ?? rules[0];
  return {
    average: { ...source, ...(bySize && { by: bySize }) },
    single: { ...source, ...(weaker && { by: weaker }) },
  };
}

/** Full-size minimums are the demand's own and so are what sets of all heats are held to. */
const SET_REQUIREMENTS: Readonly<Record<Rounding, WeakMap<FullSizeRequirement, SetRequirement>>> = {
  "rounding method": new WeakMap(),
  "rounding rule B": new WeakMap(),
  absolute: new WeakMap(),
};

function setRequirement(required: FullSizeRequirement, rounding: Rounding): SetRequirement {
  return keptWith(SET_REQUIREMENTS[rounding], required, () => ({
    ...(required.average && { average: required.average.value }),
    ...(required.single && { single: required.single.value }),
    rounding,
  }));
}

function notesOf(demand: ImpactDemand, set: ImpactSet): readonly Note[] {
  const notes: Note[] = [];
  const isZoneTaken = demand.zone === "base" && set.singles.some((single) => single.zone === undefined);
  if (isZoneTaken) notes.push({ code: "zone-not-stated", taken: "base" });
  if (!set.widthStated) notes.push({ code: "size-not-stated" });
  const bounded = set.singles.find((single) => single.bound !== undefined);
  if (bounded) notes.push({ code: "held-at-bound", bound: bounded.printed });
  if (set.subsizeWidth && demand.subsize) {
    notes.push({ code: "sub-size", width: formatMeasure(set.subsizeWidth), rule: demand.subsize.name });
  }
  return notes;
}

const ZONES: Readonly<Record<Zone, string>> = { base: "base metal", weld: "weld", haz: "heat-affected zone" };

function describe({ zone, temperature, orientation }: ImpactDemand): string {
  return `${ZONES[zone]} at ${formatMeasure(temperature)}${orientation ? `, ${orientation}` : ""}`;
}
