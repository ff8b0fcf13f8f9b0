import { CONFIDENCE_THRESHOLD, type NumberedReading } from "../certificate/certificate.js";
import type { Known } from "../grades/grade.js";
import { absolute, compare, subtract } from "../quantity/decimal.js";
import { type Interval, isExact } from "../quantity/interval.js";
import { otherMethod } from "../quantity/rounding.js";
import type { Unit } from "../quantity/unit.js";
import type { AppliedLimit } from "./applied-limit.js";
import type { UndeterminedReason } from "./finding.js";
import { leastConfidence } from "./heat-evidence.js";
import { type Bounds, type Held, hold } from "./hold.js";
import type { BoundLimit, Judgement, LimitSource, Note, Saying } from "./judgement.js";
import { isSourceVerified, isVerified } from "./known.js";
import { methodsPart } from "./methods-part.js";
import { worstFirst } from "./worst.js";

/** One value, ready to be held: already in the limit's unit system, with the bounds that apply to it. */
export interface Candidate {
  readonly readings: readonly NumberedReading[];
  readonly value: Interval;
  /** With the bounds that apply to it, in the unit of the value. */
  readonly limit: BoundLimit;
  /** Where the bounds depend on other elements: the bounds at the other end of what is known of those. Outside these is outside. */
  readonly lenient?: { readonly bounds: Bounds; readonly on: readonly string[] };
  /** The value is the sum of its readings. */
  readonly sum?: true;
  /** Product analysis: the bounds before they were widened, and how the tolerance is known. */
  readonly tolerance?: {
    readonly untoleranced: Bounds;
    readonly known: Known;
  };
  readonly notes: readonly Note[];
  /** The unit of the reading, where it is of the other system than the only bound that is known. */
  readonly otherSystem?: Unit;
  /** The value is computed, so its readings are its operands and their print is not its own. */
  readonly computed?: {
    readonly by: NonNullable<LimitSource["by"]>;
    /** Operands without which the value is known from one side only. */
    readonly notReported: readonly string[];
  };
}

/** Holds every candidate against the limit and gives the judgement of the worst: all tests of a heat must meet it. */
export function conclude(applied: AppliedLimit, candidates: readonly Candidate[]): Judgement {
  if (candidates.length === 1) return concludeOne(applied, candidates[0]!);
  const judgements = candidates.map((candidate) => concludeOne(applied, candidate));
  const outcomes = worstFirst(judgements);
  const worstOutcome = outcomes[0]!.outcome;
  const worst = outcomes
    .filter((judgement) => judgement.outcome === worstOutcome)
    .reduce((left, right) => (nearerToTheLimit(right, left) ? right : left));
  const others = judgements.filter((judgement) => judgement !== worst).flatMap((judgement) => judgement.readings);
  return { ...worst, readings: [...worst.readings, ...others.filter((reading) => !worst.readings.includes(reading))] };
}

/** Of equal outcomes the one to show. */
export function nearerToTheLimit(left: Judgement, right: Judgement): boolean {
  return left.margin !== undefined && (right.margin === undefined || compare(left.margin, right.margin) < 0);
}

function concludeOne(applied: AppliedLimit, candidate: Candidate): Judgement {
  const { limit } = candidate;
  const held = hold(candidate.value, limit, applied.rounding);
  const source = candidate.computed ? { ...applied.source, by: candidate.computed.by } : applied.source;
  const undetermined = (reason: UndeterminedReason, says: Saying) => open(candidate, held, source, reason, says);

  const confidence = leastConfidence(candidate.readings);
  if (confidence < CONFIDENCE_THRESHOLD) return undetermined("low-confidence", { code: "low-confidence", confidence });
  if (held.outcome === "open") return undetermined("bound-not-decisive", openSaying(candidate));
  if (isOpenBound(candidate, held, applied)) {
    return undetermined("bound-not-decisive", { code: "bound-depends", on: candidate.lenient!.on });
  }

  const parted = methodsNote(candidate, held, applied);
  if (candidate.otherSystem && parted) {
    return undetermined("not-comparable", { code: "other-unit-system", stated: candidate.otherSystem });
  }
  const side = held.side === "min" ? "below" : "above";
  if (held.outcome === "fail" && !isSourceVerified(source)) {
    return undetermined("reference-unverified", { code: "unverified", side });
  }
  const tolerance = candidate.tolerance;
  if (tolerance && !isVerified(tolerance.known)) {
    // An unverified tolerance only ever relaxes: it may not pass what the limit itself refuses, nor fail on its own number.
    const strict = hold(candidate.value, tolerance.untoleranced, applied.rounding);
    if (strict.outcome !== "pass") {
      const strictSide = strict.side === "min" ? "below" : "above";
      const printed = tolerance.untoleranced[strict.side]!;
      const allowance = absolute(subtract(limit[strict.side]!, printed));
      const says = { code: "tolerance-unverified", side: strictSide, printed, tolerance: allowance } as const;
      const by = { name: "product-analysis tolerance", known: tolerance.known };
      return { ...undetermined("reference-unverified", says), source: { ...source, by } };
    }
  }
  const unverified = held.outcome === "pass" && !isSourceVerified(source);
  const notes =
    parted || unverified
      ? [...candidate.notes, ...(parted ? [parted] : []), ...(unverified ? [UNVERIFIED_PASS] : [])]
      : candidate.notes;
  return compared(candidate, held, source, notes);
}

function open(
  candidate: Candidate,
  held: Held,
  source: LimitSource,
  reason: UndeterminedReason,
  says: Saying,
): Judgement {
  return { ...compared(candidate, held, source, candidate.notes), outcome: "undetermined", reason, says };
}

function compared(candidate: Candidate, held: Held, source: LimitSource, notes: readonly Note[]): Judgement {
  const { readings, limit } = candidate;
  return {
    outcome: held.outcome === "open" ? "undetermined" : held.outcome,
    quantity: limit.quantity,
    readings,
    judged: held.judged,
    unit: limit.unit,
    limit,
    source,
    margin: held.margin,
    says: comparedSaying(candidate, held),
    notes,
  };
}

const COMPARED = { code: "compared" } as const;

/** Outside a maximum with its lower end, or inside a minimum with it, a value is so with all of its range. */
function comparedSaying({ computed, sum, value }: Candidate, { outcome, side }: Held): Saying {
  if ((!computed && !sum) || isExact(value)) return COMPARED;
  return { code: "compared", known: (outcome === "fail") === (side === "max") ? "at least" : "at most" };
}
const UNVERIFIED_PASS = { code: "unverified-pass" } as const;

function openSaying(candidate: Candidate): Saying {
  const { computed, sum } = candidate;
  if (computed || sum) return { code: "uncertain", ...candidate.value, notReported: computed?.notReported ?? [] };
  return { code: "bound-not-decisive", bound: candidate.readings[0]?.printed ?? "" };
}

function isOpenBound(candidate: Candidate, held: Held, applied: AppliedLimit): boolean {
  if (held.outcome !== "fail" || candidate.lenient === undefined) return false;
  return hold(candidate.value, candidate.lenient.bounds, applied.rounding).outcome !== "fail";
}

function methodsNote({ value, limit }: Candidate, held: Held, applied: AppliedLimit): Note | undefined {
  if (!isRounded(value, limit)) return undefined;
  const other = hold(value, limit, otherMethod(applied.rounding));
  if (other.outcome === held.outcome || other.outcome === "open" || held.outcome === "open") return undefined;
  return methodsPart(applied.rounding, held.outcome, other.outcome);
}

/** Whether rounding to a bound's last place would change anything: the two methods are one for a value with no more places. */
function isRounded({ low, high }: Interval, { min, max }: Bounds): boolean {
  const finest = Math.max(low?.places ?? 0, high?.places ?? 0);
  return (min !== undefined && finest > min.places) || (max !== undefined && finest > max.places);
}
