import type { NumberedReading } from "../../certificate/certificate.js";
import { compare, type Decimal, decimal, formatDecimal, shift } from "../../quantity/decimal.js";
import { formatMeasure } from "../../quantity/measure.js";
import { isPhysical } from "../../quantity/physical-range.js";
import { kindOf, type QuantityKind } from "../../quantity/quantity.js";
import { convert, dimensionOf, type Unit, unitsOf } from "../../quantity/unit.js";
import { collect, joined, select } from "../collect.js";
import { groupBy } from "../group-by.js";
import type { Judgement } from "../judgement.js";
import { COMMON_PRACTICE, contradiction } from "./contradiction.js";

/**
 * A value that no such metal has in the unit that is printed, and what would explain it: another unit (612 "ksi" that are MPa),
 * a lost decimal sign or the factor of a column (21 for 0.021 %). It is said, never applied: the document has to be corrected.
 */
export function improbableUnitContradictions(readings: readonly NumberedReading[]): readonly Judgement[] {
  return joined([collect(readings, outsideAnything), belowAbsoluteZero(readings)]);
}

function outsideAnything(reading: NumberedReading): Judgement | undefined {
  const { quantity, value, unit, bound } = reading;
  if (bound !== undefined || isPhysical(quantity, value, unit)) return undefined;
  const fits = [...unitsThatFit(reading), ...factorsThatFit(reading)];
  const kind = kindOf(quantity);
  // Pendulums and instruments reach further than the usual ranges of the rest: those count only where another unit explains them.
  if (fits.length === 0 && !QUESTIONED_ALONE.includes(kind)) return undefined;
  const wouldFit = fits.length === 0 ? "no other unit would fit" : `${either(fits)} would fit`;
  const what = `${quantity} ${formatMeasure(reading)} lies outside anything such metals do; ${wouldFit}`;
  return contradiction(what, [reading], COMMON_PRACTICE);
}

const QUESTIONED_ALONE: readonly QuantityKind[] = ["strength", "elongation", "chemistry"];

function unitsThatFit({ quantity, value, unit }: NumberedReading): string[] {
  const others = unitsOf(dimensionOf(unit)).filter((other) => other !== unit && isPhysical(quantity, value, other));
  return withoutSynonyms(others, value).map((other) => `${formatDecimal(value)} ${other}`);
}

/** MPa and N/mm2 are one size: the first of them is enough. */
function withoutSynonyms(units: readonly Unit[], value: Decimal): Unit[] {
  return units.filter((unit, index) => !units.slice(0, index).some((earlier) => isSameSize(value, unit, earlier)));
}

function isSameSize(value: Decimal, left: Unit, right: Unit): boolean {
  const converted = convert(value, left, right);
  return converted !== undefined && compare(converted, value) === 0;
}

/** Decimal signs get lost and column titles carry factors where numbers are small or many; energies are printed as they are. */
const SCALED: readonly QuantityKind[] = ["chemistry", "strength", "elongation"];
const POWERS = [-1, -2, -3, 1, 2, 3];

function factorsThatFit({ quantity, value, unit }: NumberedReading): string[] {
  if (!SCALED.includes(kindOf(quantity))) return [];
  return POWERS.map((power) => shift(value, power))
    .filter((scaled) => isPhysical(quantity, scaled, unit))
    .map((scaled) => `${formatDecimal(scaled)} ${unit}`);
}

function either(fits: readonly string[]): string {
  return fits.length === 1 ? fits[0]! : `${fits.slice(0, -1).join(", ")} or ${fits.at(-1)}`;
}

const ABSOLUTE_ZERO_C = decimal("-273.15");

/** -320 °C is a Fahrenheit number. Once a temperature, however many pieces were tested at it. */
function belowAbsoluteZero(readings: readonly NumberedReading[]): readonly Judgement[] {
  const impossible = select(readings, ({ temperature }) => {
    const celsius = temperature && convert(temperature.value, temperature.unit, "°C");
    return celsius !== undefined && compare(celsius, ABSOLUTE_ZERO_C) < 0;
  });
  if (impossible.length === 0) return [];
  return groupBy(impossible, ({ temperature }) => formatMeasure(temperature!)).map((tested) => {
    const printed = formatMeasure(tested[0]!.temperature!);
    const { value } = tested[0]!.temperature!;
    const fits = (["°C", "°F"] as const).filter((unit) => compare(convert(value, unit, "°C")!, ABSOLUTE_ZERO_C) >= 0);
    const wouldFit =
      fits.length === 0 ? "" : `; ${either(fits.map((unit) => `${formatDecimal(value)} ${unit}`))} would fit`;
    return contradiction(`the test temperature ${printed} is below absolute zero${wouldFit}`, tested, "by definition");
  });
}
