import type { NumberedReading } from "../../certificate/certificate.js";
import { compare, type Decimal, decimal, multiply } from "../../quantity/decimal.js";
import { formatMeasure } from "../../quantity/measure.js";
import { kindOf, type Quantity, type QuantityKind } from "../../quantity/quantity.js";
import { convert } from "../../quantity/unit.js";
import { select } from "../collect.js";
import type { Judgement } from "../judgement.js";
import { COMMON_PRACTICE, contradiction } from "./contradiction.js";
import { isSameTest } from "./same-test.js";

const TENSILE: readonly QuantityKind[] = ["strength", "elongation"];
const YIELDS: readonly Quantity[] = ["Rp0.2", "Rp1.0", "Rt0.5", "ReH", "ReL", "Yield"];

/** Austenitic steel at -196 °C comes down to about 0.2 of its tensile strength; nothing built with comes lower. */
const LEAST_RATIO = decimal("0.15");
/** A metal that stretches by this much hardens as it does so, and its tensile strength leaves its yield behind. */
const STRETCHES_PERCENT = decimal("30");
const NO_HARDENING_RATIO = decimal("0.99");

/** Yield against tensile strength of one test, where no metal has that ratio. Common practice, no source. */
export function tensileRangeContradictions(readings: readonly NumberedReading[]): readonly Judgement[] {
  const exact = select(readings, ({ quantity, bound }) => bound === undefined && TENSILE.includes(kindOf(quantity)));
  const found: Judgement[] = [];
  for (const tensile of exact) {
    if (tensile.quantity !== "Rm") continue;
    const same = select(exact, (reading) => isSameTest(tensile, reading));
    for (const yielding of same) {
      const odd = YIELDS.includes(yielding.quantity) ? oddPair(yielding, tensile, same) : undefined;
      if (odd) found.push(odd);
    }
  }
  return found;
}

function oddPair(
  yielding: NumberedReading,
  tensile: NumberedReading,
  same: readonly NumberedReading[],
): Judgement | undefined {
  const low = inMPa(yielding);
  const high = inMPa(tensile);
  if (!low || !high) return undefined;
  const pair = () => `${text(yielding)} and ${text(tensile)} of the same test`;
  if (compare(low, multiply(high, LEAST_RATIO)) < 0) {
    return contradiction(`${pair()} are further apart than in any metal`, [yielding, tensile], COMMON_PRACTICE);
  }
  // Above Rm is a contradiction by definition, said elsewhere.
  const isEqual = compare(low, multiply(high, NO_HARDENING_RATIO)) >= 0 && compare(low, high) <= 0;
  const stretched = isEqual ? same.find(isStretched) : undefined;
  if (!stretched) return undefined;
  const what = `${pair()} leave no hardening to a metal that stretches by ${text(stretched)}`;
  return contradiction(what, [yielding, tensile, stretched], COMMON_PRACTICE);
}

function isStretched({ quantity, value, unit }: NumberedReading): boolean {
  const percent = kindOf(quantity) === "elongation" ? convert(value, unit, "%") : undefined;
  return percent !== undefined && compare(percent, STRETCHES_PERCENT) >= 0;
}

function inMPa({ value, unit }: NumberedReading): Decimal | undefined {
  return convert(value, unit, "MPa");
}

function text(reading: NumberedReading): string {
  return `${reading.quantity} ${formatMeasure(reading)}`;
}
