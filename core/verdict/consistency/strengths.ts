import type { NumberedReading } from "../../certificate/certificate.js";
import { compare, type Decimal, formatDecimal } from "../../quantity/decimal.js";
import { kindOf, type Quantity } from "../../quantity/quantity.js";
import { convert } from "../../quantity/unit.js";
import { select } from "../collect.js";
import type { Judgement } from "../judgement.js";
import { contradiction } from "./contradiction.js";
import { isSameTest } from "./same-test.js";

/**
 * Orders that hold for every tensile test piece. Rm may lie below ReH in steels with marked yield (ISO 6892-1), so that pair is not
 * among them.
 */
const NEVER_ABOVE: readonly (readonly [lower: Quantity, upper: Quantity])[] = [
  ["Rp0.2", "Rm"],
  ["Rp1.0", "Rm"],
  ["Rt0.5", "Rm"],
  ["Yield", "Rm"],
  ["Rp0.2", "Rp1.0"],
  ["ReL", "ReH"],
];

export function strengthContradictions(readings: readonly NumberedReading[]): readonly Judgement[] {
  const strengths = select(readings, ({ quantity }) => kindOf(quantity) === "strength");
  const found: Judgement[] = [];
  for (const [lower, upper] of NEVER_ABOVE) {
    for (const low of strengths) {
      if (low.quantity !== lower) continue;
      for (const high of strengths) {
        if (high.quantity === upper && isSameTest(low, high) && isAbove(low, high)) found.push(describe(low, high));
      }
    }
  }
  return found;
}

function describe(low: NumberedReading, high: NumberedReading): Judgement {
  const text = (reading: NumberedReading) => `${reading.quantity} ${formatDecimal(reading.value)} ${reading.unit}`;
  return contradiction(
    `${text(low)} is above ${text(high)} of the same test`,
    [low, high],
    "by definition, ISO 6892-1",
  );
}

function isAbove(low: NumberedReading, high: NumberedReading): boolean {
  if (low.bound !== undefined || high.bound !== undefined) return false;
  const [a, b] = [inMPa(low), inMPa(high)];
  return a !== undefined && b !== undefined && compare(a, b) > 0;
}

function inMPa(reading: NumberedReading): Decimal | undefined {
  return convert(reading.value, reading.unit, "MPa");
}
