import { compare, type Decimal } from "../quantity/decimal.js";
import type { ImpactRule } from "./impact-rules.js";
import { countBelow, isBelowSingle, isMeanBelow, type SetRequirement } from "./judge-set.js";
import { type RetestRule, retestRule } from "./retest-rules.js";

export interface RetestAllowance {
  /** person: the rule's text does not settle this case, or its condition was not seen. */
  readonly allowed: "yes" | "no" | "person";
  readonly because: string;
}

/** Whether the rule allows further pieces after the first set has failed. */
export function retestAllowed(rule: ImpactRule, required: SetRequirement, first: readonly Decimal[]): RetestAllowance {
  if (!rule.retest) return { allowed: "person", because: `the rule ${rule.name} says nothing of a retest` };
  const retest = retestRule(rule.retest);
  if (first.length !== rule.pieces) return { allowed: "no", because: "the first set is not complete" };
  switch (retest.allowed) {
    case "asme":
      return asmeAllowance(rule, required, first);
    case "lateral expansion":
      return lateralExpansionAllowance(retest, required, first);
    case "while six can still pass":
      return sequentialAllowance(rule, retest, required, first);
    case "unknown":
      return { allowed: "person", because: "when a retest may be made was not seen in a source" };
  }
}

export interface RetestJudgement {
  readonly outcome: "pass" | "fail" | "undetermined";
  readonly because: string;
}

/** Holds the further pieces, and where the rule says so all pieces together, to the requirement. */
export function judgeRetest(
  rule: ImpactRule,
  required: SetRequirement,
  first: readonly Decimal[],
  further: readonly Decimal[],
): RetestJudgement {
  if (!rule.retest) return { outcome: "undetermined", because: `the rule ${rule.name} says nothing of a retest` };
  const retest = retestRule(rule.retest);
  if (further.length > retest.furtherPieces) {
    return {
      outcome: "undetermined",
      because: `${further.length} further pieces, the rule has ${retest.furtherPieces}`,
    };
  }
  const missing = retest.furtherPieces - further.length;
  const judged =
    retest.judged === "each" ? judgeEach(required, further) : judgeSix(rule, retest, required, first, further);
  if (judged.outcome === "pass" && missing > 0) {
    return { outcome: "undetermined", because: `${missing} of ${retest.furtherPieces} further pieces missing` };
  }
  return judged;
}

function asmeAllowance(rule: ImpactRule, required: SetRequirement, first: readonly Decimal[]): RetestAllowance {
  if (!required.average) return { allowed: "person", because: "no required average is stated" };
  const belowSingle = first.filter((single) => isBelowSingle(rule, required, single)).length;
  const belowAverage = countBelow(first, required.average, required.rounding);
  const meanReachesSingle = !isMeanBelowSingle(rule, required, first);

  if (meanReachesSingle && belowSingle === 1)
    return { allowed: "yes", because: "one value is below the single minimum" };
  if (meanReachesSingle && belowSingle === 0 && belowAverage > 1) {
    return {
      allowed: "yes",
      because: "the average reaches the single minimum and more than one value is below the required average",
    };
  }
  if (!meanReachesSingle && belowSingle > 1) {
    return { allowed: "no", because: "the average and more than one value are below the single minimum" };
  }
  if (belowSingle === 0) return { allowed: "no", because: "neither condition for a retest is met" };
  // The text reads "one value below" in one branch and asks only for the average in the other; several low values
  // satisfy one reading and not the other.
  return { allowed: "person", because: "several values are low and the rule's text can be read both ways" };
}

function isMeanBelowSingle(rule: ImpactRule, required: SetRequirement, values: readonly Decimal[]): boolean {
  if (required.single) return isMeanBelow(values, required.single, required.rounding);
  if (!rule.singleShare || !required.average) return false;
  const { numerator, denominator } = rule.singleShare;
  const scaled = values.map((value) => ({ digits: value.digits * denominator, places: value.places }));
  return isMeanBelow(
    scaled,
    { digits: required.average.digits * numerator, places: required.average.places },
    "absolute",
  );
}

function lateralExpansionAllowance(
  retest: RetestRule,
  required: SetRequirement,
  first: readonly Decimal[],
): RetestAllowance {
  const minimum = required.single;
  const floor = retest.floors?.find((known) => minimum && compare(known.required, minimum) === 0)?.floor;
  if (!minimum || !floor) return { allowed: "person", because: "no retest floor is known for this minimum" };
  if (isMeanBelow(first, minimum, required.rounding))
    return { allowed: "no", because: "the average is below the minimum" };
  if (countBelow(first, minimum, required.rounding) > 1) {
    return { allowed: "no", because: "more than one piece is below the minimum" };
  }
  if (countBelow(first, floor, required.rounding) > 0) {
    return { allowed: "no", because: "the low piece is below the floor for a retest" };
  }
  return {
    allowed: "yes",
    because: "one piece is below the minimum, none below the floor, and the average reaches it",
  };
}

function sequentialAllowance(
  rule: ImpactRule,
  retest: RetestRule,
  required: SetRequirement,
  first: readonly Decimal[],
): RetestAllowance {
  const tooMany = countFault(rule, retest, required, first);
  if (tooMany) return { allowed: "no", because: `${tooMany}, whatever further pieces give` };
  return { allowed: "yes", because: "six pieces together can still meet the requirement" };
}

function judgeEach(required: SetRequirement, further: readonly Decimal[]): RetestJudgement {
  const minimum = required.average ?? required.single;
  if (!minimum) return { outcome: "undetermined", because: "no required value is stated" };
  const low = countBelow(further, minimum, required.rounding);
  if (low > 0) return { outcome: "fail", because: `${low} of the further pieces below the required value` };
  return { outcome: "pass", because: "every further piece reaches the required value" };
}

function judgeSix(
  rule: ImpactRule,
  retest: RetestRule,
  required: SetRequirement,
  first: readonly Decimal[],
  further: readonly Decimal[],
): RetestJudgement {
  if (!required.average) return { outcome: "undetermined", because: "no required average is stated" };
  const all = [...first, ...further];
  const tooMany = countFault(rule, retest, required, all);
  if (tooMany) return { outcome: "fail", because: tooMany };
  if (further.length === retest.furtherPieces && isMeanBelow(all, required.average, required.rounding)) {
    return { outcome: "fail", because: "the average of all six is below the required average" };
  }
  return { outcome: "pass", because: "all six together meet the requirement" };
}

function countFault(
  rule: ImpactRule,
  retest: RetestRule,
  required: SetRequirement,
  values: readonly Decimal[],
): string | undefined {
  const belowAverage = required.average ? countBelow(values, required.average, required.rounding) : 0;
  const belowSingle = values.filter((value) => isBelowSingle(rule, required, value)).length;
  if (retest.belowAverageAllowed !== undefined && belowAverage > retest.belowAverageAllowed) {
    return `${belowAverage} pieces below the required average, ${retest.belowAverageAllowed} allowed`;
  }
  if (retest.belowSingleAllowed !== undefined && belowSingle > retest.belowSingleAllowed) {
    return `${belowSingle} pieces below the single minimum, ${retest.belowSingleAllowed} allowed`;
  }
  return undefined;
}
