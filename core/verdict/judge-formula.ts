import type { Analysis } from "../certificate/certificate.js";
import type { Formula, FormulaResult } from "../metallurgy/formula.js";
import { formula, usualFormula } from "../metallurgy/formulas.js";
import { outsideValidity } from "../metallurgy/linear.js";
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
  if (result.kind === "outside-range")
    return { reason: "not-comparable", says: { code: "outside-range", of, because: result.because } };

  const printed = printedLimit(applied, "si");
  const { unit } = printed;
  const operands = [...wanted.needs, ...wanted.optional];
  const readings = chemistry.readings.filter(({ quantity }) => operands.some((ingredient) => ingredient === quantity));
  const missing: NotComputed | undefined =
    result.kind === "missing"
      ? { reason: "not-reported", says: { code: "operand-missing", of, missing: result.missing } }
      : undefined;
  const inUnit = (end: Decimal | undefined) => end && convert(end, wanted.unit, unit);
  const [low, high] = [inUnit(result.low), inUnit(result.high)];
  if (missing && (readings.length === 0 || (!low && !high))) return missing;
  if (!low && !high) return { reason: "unit-unknown", says: { code: "unit-unknown", stated: unit } };
  const notes: Note[] = [
    ...(analysis === "product" ? ["Computed from the product analysis."] : []),
    ...howFarKnown(result),
    `${wanted.name} = ${wanted.expression} (${wanted.source}).`,
    ...(result.kind === "value" ? result.cautions : outsideValidity(wanted.validity, chemistry.contents)),
  ].map((text) => ({ code: "text", text }));
  const judgement = conclude(applied, [
    {
      readings,
      value: { ...(low && { low }), ...(high && { high }) },
      limit: printed,
      notes,
      computed: {
        by: { name: wanted.name, known: wanted.known },
        notReported: result.kind === "missing" ? result.missing : result.notReported,
      },
    },
  ]);
  // What is missing may still not matter: the others exceed the limit, or meet it, whatever it is.
  return missing && isOpen(judgement) ? missing : judgement;
}

function isOpen({ reason }: Judgement): boolean {
  return reason === "bound-not-decisive" || reason === "low-confidence";
}

function howFarKnown(result: Exclude<FormulaResult, { kind: "outside-range" }>): readonly string[] {
  if (result.kind === "value") {
    return isExact(result) ? [] : [`Computed ${print(result.value)}, surely ${rangeText(result)}.`];
  }
  const { missing } = result;
  return [
    `${missing.join(", ")} not reported: whatever ${missing.length > 1 ? "they are" : "it is"}, surely ${rangeText(result)}.`,
  ];
}

function print(value: Decimal): string {
  return formatDecimal(roundHalfEven(value, Math.min(value.places, 3)));
}

function rangeText({ low, high }: Interval): string {
  if (!high) return `${print(low!)} or more`;
  return low ? `from ${print(low)} to ${print(high)}` : `${print(high)} or less`;
}
