import type { NumberedReading } from "../../certificate/certificate.js";
import type { Chemistry } from "../../metallurgy/chemistry.js";
import type { Formula, FormulaResult } from "../../metallurgy/formula.js";
import { formulasOf, usualFormula } from "../../metallurgy/formulas.js";
import { outsideValidity } from "../../metallurgy/linear.js";
import { absolute, add, compare, type Decimal, decimal, formatDecimal, subtract } from "../../quantity/decimal.js";
import type { Interval } from "../../quantity/interval.js";
import type { Quantity } from "../../quantity/quantity.js";
import { roundHalfEven } from "../../quantity/round.js";
import { chemistryOf } from "../chemistry-of.js";
import { select } from "../collect.js";
import type { Judgement } from "../judgement.js";
import { COMMON_PRACTICE, contradiction } from "./contradiction.js";

const STATED: readonly Quantity[] = ["CE", "Pcm", "CET", "CEN", "PREN", "FN"];

/**
 * A Ferrite Number may have been measured, beside an analysis that was itself measured elsewhere in the bead: it may lie this far
 * outside what the diagram allows (common practice, no source). The other indices follow from the elements alone.
 */
const MEASURED_APART: Partial<Record<Quantity, Decimal>> = { FN: decimal("2") };

/**
 * A printed index must follow from the printed elements by at least one of the formulas that carry its name, within what the
 * formula leaves open and what rounding to the printed places can have hidden.
 */
export function statedIndexContradictions(readings: readonly NumberedReading[]): readonly Judgement[] {
  return select(readings, (reading) => STATED.includes(reading.quantity) && reading.bound === undefined).flatMap(
    (stated) => {
      const chemistry = chemistryOf(readings, stated.zone);
      const formulas = formulasOf(stated.quantity);
      const found = formulas.flatMap((formula) => rangeOf(formula, chemistry.contents));
      // What one formula lacks says nothing where another has all that it needs: PREN without tungsten beside PREW.
      const complete = found.filter(({ value }) => value !== undefined);
      const ranges = complete.length > 0 ? complete : found;
      const apart = add(oneUnit(stated.value), MEASURED_APART[stated.quantity] ?? decimal("0"));
      if (ranges.length === 0 || ranges.some((range) => follows(stated.value, range, apart))) return [];
      const what = `the stated ${stated.quantity} ${stated.printed} does not follow from the elements, which give ${ranges.map(describe).join(" or ")}`;
      const basis = stated.quantity === "FN" ? `WRC-1992; ${COMMON_PRACTICE}` : "arithmetic of the formula";
      const operands = formulas.flatMap(({ needs, optional }) => [...needs, ...optional]);
      const elements = chemistry.readings.filter(({ quantity }) => operands.some((operand) => operand === quantity));
      return [contradiction(what, [stated, ...elements], basis)];
    },
  );
}

interface Range extends Interval {
  /** Absent where an element that the formula needs was not reported: the others still prove one end. */
  readonly value?: Decimal;
}

/** What the elements give: between the formula's own ends, each moved out by what rounding of the operands can add up to. */
function rangeOf(formula: Formula, contents: Chemistry): Range[] {
  const result = formula.compute(contents);
  const computed = computedOf(result);
  if (result.kind === "outside-range" || computed === undefined) return [];
  // A formula that is not the usual one explains a stated index only where it holds.
  if (isOutOfPlace(formula) && outsideValidity(formula.validity, contents).length > 0) return [];
  const hidden = [...contents].map(([ingredient, content]) => {
    const raised = new Map(contents).set(ingredient, {
      ...content,
      value: add(content.value, halfUnit(content.value)),
    });
    const moved = computedOf(formula.compute(raised));
    return moved ? absolute(subtract(moved, computed)) : decimal("0");
  });
  const play = hidden.reduce(add, decimal("0"));
  return [
    {
      ...(result.kind === "value" && { value: result.value }),
      ...(result.low && { low: subtract(result.low, play) }),
      ...(result.high && { high: add(result.high, play) }),
    },
  ];
}

function computedOf(result: FormulaResult): Decimal | undefined {
  if (result.kind === "outside-range") return undefined;
  return result.kind === "value" ? result.value : (result.low ?? result.high);
}

function isOutOfPlace(formula: Formula): boolean {
  return formula.quantity !== undefined && formula !== usualFormula(formula.quantity) && formula.validity.length > 0;
}

function follows(stated: Decimal, { low, high }: Interval, apart: Decimal): boolean {
  const notBelow = low === undefined || compare(stated, subtract(low, apart)) >= 0;
  return notBelow && (high === undefined || compare(stated, add(high, apart)) <= 0);
}

/** Cut off instead of rounded, a printed number hides up to one unit of its last place. */
function oneUnit(value: Decimal): Decimal {
  return { digits: 1n, places: value.places };
}

function halfUnit(value: Decimal): Decimal {
  return { digits: 5n, places: value.places + 1 };
}

function describe({ value, low, high }: Range): string {
  const print = (end: Decimal) => formatDecimal(roundHalfEven(end, 3));
  if (value && low && high) return `${print(value)} (${print(low)} to ${print(high)})`;
  return low ? `${print(low)} or more` : `${print(high!)} or less`;
}
