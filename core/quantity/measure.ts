import { type Decimal, formatDecimal } from "./decimal.js";
import { convert, type Unit } from "./unit.js";

/** A value with its unit, as stated: -196 °C, 12 mm, 70 ksi. */
export interface Measure {
  readonly value: Decimal;
  readonly unit: Unit;
}

export function formatMeasure(measure: Measure): string {
  return measure.unit === "1" ? formatDecimal(measure.value) : `${formatDecimal(measure.value)} ${measure.unit}`;
}

/** The same measure in another unit; undefined where the dimensions differ. */
export function measureIn(measure: Measure, unit: Unit): Decimal | undefined {
  return convert(measure.value, measure.unit, unit);
}
