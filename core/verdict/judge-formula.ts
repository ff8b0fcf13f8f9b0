import type { Analysis } from "../certificate/certificate.js";
import type { Formula } from "../metallurgy/formula.js";
import { formula, usualFormula } from "../metallurgy/formulas.js";
import { type Decimal, formatDecimal } from "../quantity/decimal.js";
import { type Interval, isExact } from "../quantity/interval.js";
import { roundHalfEven } from "../quantity/round.js";
import { convert } from "../quantity/unit.js";
import { type AppliedLimit, labelOf, printedLimit } from "./applied-limit.js";
import { chemistryOf } from "./chemistry-of.js";
import { conclude } from "./conclude.js";
import type { UndeterminedReason } from "./finding.js";
import type { HeatEvidence } from "./heat-evidence.js";
import type { Judgement, Note, Saying } from "./judgement.js";

type NotComputed = { readonly reason: UndeterminedReason; readonly says: Saying };

/** Holds a limit on an index against what one analysis proves of it: an interval where operands or formula are uncertain. */
export function judgeFormula(
  applied: AppliedLimit,
  evidence: HeatEvidence,
  analysis: Analysis,
): Judgement | NotComputed {
  const { limit } = applied;
  const of = labelOf(limit);
  const wanted: Formula | undefined =
    limit.formula === undefined ? usualFormula(limit.quantity) : formula(limit.formula);
  if (!wanted) {
    return {
      reason: "kind-unknown",
      says: { code: "outside-range", of, because: "the limit does not say by which formula" },
    };
  }

  const chemistry = chemistryOf(evidence.readings, limit.when?.zone, analysis);
  const result = wanted.compute(chemistry.contents);
  if (result.kind === "missing")
    return { reason: "not-reported", says: { code: "operand-missing", of, missing: result.missing } };
  if (result.kind === "outside-range")
    return { reason: "not-comparable", says: { code: "outside-range", of, because: result.because } };

  const printed = printedLimit(applied, "si");
  const { unit } = printed;
  const inUnit = (end: Decimal | undefined) => end && convert(end, wanted.unit, unit);
  const [low, high] = [inUnit(result.low), inUnit(result.high)];
  if (!low && !high) return { reason: "unit-unknown", says: { code: "unit-unknown", stated: unit } };
  const operands = [...wanted.needs, ...wanted.optional];
  const origin = [
    ...(analysis === "product" ? ["Computed from the product analysis."] : []),
    ...(isExact(result) ? [] : [`Computed ${print(result.value)}, surely ${rangeText(result)}.`]),
  ];
  const notes: Note[] = [
    ...origin,
    `${wanted.name} = ${wanted.expression} (${wanted.source}).`,
    ...result.cautions,
  ].map((text) => ({ code: "text", text }));
  return conclude(applied, [
    {
      readings: chemistry.readings.filter(({ quantity }) => operands.some((ingredient) => ingredient === quantity)),
      value: { ...(low && { low }), ...(high && { high }) },
      limit: printed,
      notes,
      computed: { by: { name: wanted.name, known: wanted.known }, notReported: result.notReported },
    },
  ]);
}

function print(value: Decimal): string {
  return formatDecimal(roundHalfEven(value, Math.min(value.places, 3)));
}

function rangeText({ low, high }: Interval): string {
  if (!high) return `${print(low!)} or more`;
  return low ? `from ${print(low)} to ${print(high)}` : `${print(high)} or less`;
}
