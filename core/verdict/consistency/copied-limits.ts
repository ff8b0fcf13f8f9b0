import type { NumberedReading } from "../../certificate/certificate.js";
import type { Grade, LibraryGrade } from "../../grades/grade.js";
import { compare, type Decimal, decimal } from "../../quantity/decimal.js";
import { isElement, kindOf, type Quantity, type QuantityKind } from "../../quantity/quantity.js";
import { convert, type Unit } from "../../quantity/unit.js";
import { joined, select } from "../collect.js";
import type { Judgement } from "../judgement.js";
import { keptWith } from "../remembered.js";
import { COMMON_PRACTICE, contradiction } from "./contradiction.js";

/**
 * Four elements, or three results of tests, that all stand exactly on a bound of the grade are the specification row, not an analysis
 * or tests (common practice, no source).
 */
const SUSPICIOUS_ELEMENTS = 4;
const SUSPICIOUS_TESTS = 3;
const TESTED: readonly QuantityKind[] = ["strength", "elongation", "hardness"];

export function copiedLimitContradictions(
  readings: readonly NumberedReading[],
  grades: readonly LibraryGrade[],
): readonly Judgement[] {
  return joined(
    grades.map(({ grade }) => {
      const copied = copiedFrom(grade, readings);
      return [
        ...suspicions(grade, copied.filter(isAnalysed), SUSPICIOUS_ELEMENTS),
        ...suspicions(grade, copied.filter(isTested), SUSPICIOUS_TESTS),
      ];
    }),
  );
}

function isAnalysed({ quantity }: NumberedReading): boolean {
  return isElement(quantity);
}

function isTested({ quantity }: NumberedReading): boolean {
  return TESTED.includes(kindOf(quantity));
}

/** Readings that stand exactly on a bound of the grade. */
function copiedFrom(grade: Grade, readings: readonly NumberedReading[]): readonly NumberedReading[] {
  const bounds = boundsOf(grade);
  return select(
    readings,
    (reading) =>
      reading.bound === undefined && (bounds.get(reading.quantity)?.some((bound) => isOn(bound, reading)) ?? false),
  );
}

function suspicions(grade: Grade, copied: readonly NumberedReading[], suspicious: number): Judgement[] {
  if (copied.length < suspicious) return [];
  const quantities = [...new Set(copied.map((reading) => reading.quantity))];
  if (quantities.length < suspicious) return [];
  const what = `${quantities.join(", ")} all stand exactly on the limits of ${grade.name}, as a specification row would`;
  return [contradiction(what, copied, COMMON_PRACTICE)];
}

interface PrintedBound {
  readonly value: Decimal;
  readonly unit: Unit;
}

/** A grade's printed numbers by quantity, read from their text once and not at every heat. */
const BOUNDS = new WeakMap<Grade, ReadonlyMap<Quantity, readonly PrintedBound[]>>();

function boundsOf(grade: Grade): ReadonlyMap<Quantity, readonly PrintedBound[]> {
  return keptWith(BOUNDS, grade, () => {
    const bounds = new Map<Quantity, PrintedBound[]>();
    for (const limit of grade.limits) {
      if (limit.sumOf !== undefined) continue;
      const printed = [limit, limit.inchPound].flatMap((side) =>
        [side?.min, side?.max].flatMap((text) =>
          side === undefined || text === undefined ? [] : [{ value: decimal(text), unit: side.unit }],
        ),
      );
      bounds.set(limit.quantity, [...(bounds.get(limit.quantity) ?? []), ...printed]);
    }
    return bounds;
  });
}

/** In the unit that the bound is printed in: a copied number was not converted. */
function isOn(bound: PrintedBound, { value, unit }: NumberedReading): boolean {
  const same = convert(value, unit, bound.unit);
  return same !== undefined && same.places <= value.places && compare(bound.value, same) === 0;
}
