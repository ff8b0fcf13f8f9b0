import { add, compare, type Decimal, decimal, multiply, shift, subtract } from "./decimal.js";
import { divideHalfEven } from "./round.js";

/** What is measured. Values convert inside one dimension only; hardness scales are dimensions of their own. */
export type Dimension =
  | "fraction"
  | "stress"
  | "energy"
  | "energy-per-area"
  | "energy-per-volume"
  | "length"
  | "area"
  | "force"
  | "mass"
  | "temperature"
  | "angle"
  | "time"
  | "HBW"
  | "HRB"
  | "HRC"
  | "HV"
  | "number";

interface UnitDefinition {
  readonly dimension: Dimension;
  /** value in the base unit = (value + offset) * numerator / denominator */
  readonly numerator: Decimal;
  readonly denominator: Decimal;
  readonly offset: Decimal;
}

function scaled(dimension: Dimension, numerator: string, denominator = "1", offset = "0"): UnitDefinition {
  return { dimension, numerator: decimal(numerator), denominator: decimal(denominator), offset: decimal(offset) };
}

/**
 * Factors are exact by definition: inch 0.0254 m and pound 0.45359237 kg (international yard and pound agreement, 1959),
 * g 9.80665 m/s2 (CGPM 1901); listed in NIST SP 811, appendix B.8.
 * lbf is 4.4482216152605 N; psi is lbf/in2, which has no finite decimal form, hence the fraction.
 */
const DEFINITIONS = {
  "%": scaled("fraction", "1"),
  ppm: scaled("fraction", "0.0001"),
  MPa: scaled("stress", "1"),
  "N/mm2": scaled("stress", "1"),
  Pa: scaled("stress", "0.000001"),
  kPa: scaled("stress", "0.001"),
  GPa: scaled("stress", "1000"),
  ksi: scaled("stress", "4448.2216152605", "645.16"),
  psi: scaled("stress", "4.4482216152605", "645.16"),
  "kgf/mm2": scaled("stress", "9.80665"),
  "kgf/cm2": scaled("stress", "0.0980665"),
  J: scaled("energy", "1"),
  "ft.lbf": scaled("energy", "1.3558179483314004"),
  "kgf.m": scaled("energy", "9.80665"),
  "J/cm2": scaled("energy-per-area", "1"),
  "kgf.m/cm2": scaled("energy-per-area", "9.80665"),
  "MJ/m3": scaled("energy-per-volume", "1"),
  mm: scaled("length", "1"),
  cm: scaled("length", "10"),
  m: scaled("length", "1000"),
  um: scaled("length", "0.001"),
  in: scaled("length", "25.4"),
  mil: scaled("length", "0.0254"),
  mm2: scaled("area", "1"),
  in2: scaled("area", "645.16"),
  N: scaled("force", "1"),
  kN: scaled("force", "1000"),
  kgf: scaled("force", "9.80665"),
  lbf: scaled("force", "4.4482216152605"),
  kip: scaled("force", "4448.2216152605"),
  kg: scaled("mass", "1"),
  g: scaled("mass", "0.001"),
  lb: scaled("mass", "0.45359237"),
  "°C": scaled("temperature", "1"),
  "°F": scaled("temperature", "5", "9", "-32"),
  K: scaled("temperature", "1", "1", "-273.15"),
  "°": scaled("angle", "1"),
  s: scaled("time", "1"),
  min: scaled("time", "60"),
  HBW: scaled("HBW", "1"),
  HRB: scaled("HRB", "1"),
  HRC: scaled("HRC", "1"),
  HV: scaled("HV", "1"),
  "1": scaled("number", "1"),
} as const satisfies Record<string, UnitDefinition>;

/** The spelling used inside Heatgate and in its JSON. Reading other spellings is the recogniser's work. */
export type Unit = keyof typeof DEFINITIONS;

export function isUnit(text: string): text is Unit {
  return Object.hasOwn(DEFINITIONS, text);
}

export function dimensionOf(unit: Unit): Dimension {
  return DEFINITIONS[unit].dimension;
}

/** Every unit of a dimension, synonyms included. */
export function unitsOf(dimension: Dimension): readonly Unit[] {
  return UNITS.filter((unit) => DEFINITIONS[unit].dimension === dimension);
}

export const UNITS = Object.keys(DEFINITIONS) as readonly Unit[];

/** Places kept by a conversion beyond those of the value: far finer than any printed result. */
const CONVERSION_PLACES = 12;

/**
 * Converts a value between units of one dimension; undefined where the dimensions differ.
 * A conversion to the same size of unit keeps the printed places, one by a power of ten moves the point (300 ppm is 0.0300 %);
 * any other is exact to 12 places more than printed.
 * Values convert, limits never (ASTM states SI and inch-pound values as separate standards).
 */
export function convert(value: Decimal, from: Unit, to: Unit): Decimal | undefined {
  if (from === to) return value;
  const source: UnitDefinition = DEFINITIONS[from];
  const target: UnitDefinition = DEFINITIONS[to];
  if (source.dimension !== target.dimension) return undefined;
  const power = powerOfTen(from, to);
  if (power !== undefined) return shift(value, power);

  const shifted = add(value, source.offset);
  const numerator = multiply(multiply(shifted, source.numerator), target.denominator);
  const denominator = multiply(source.denominator, target.numerator);
  const converted = divideHalfEven(numerator, denominator, value.places + CONVERSION_PLACES);
  return subtract(converted, target.offset);
}

/** Two names of one unit, such as MPa and N/mm2. */
export function isSameSize(left: Unit, right: Unit): boolean {
  return left === right || powerOfTen(left, right) === 0;
}

/** Where one unit is the other by a power of ten, its exponent: 0 for MPa and N/mm2, -4 for ppm and %. */
function powerOfTen(from: Unit, to: Unit): number | undefined {
  const powers = POWERS.get(from)!;
  if (!powers.has(to)) powers.set(to, exponentBetween(DEFINITIONS[from], DEFINITIONS[to]));
  return powers.get(to);
}

/** Found once for each pair of units. */
const POWERS: ReadonlyMap<Unit, Map<Unit, number | undefined>> = new Map(UNITS.map((unit) => [unit, new Map()]));

const LARGEST_EXPONENT = 9;
const EXPONENTS = Array.from({ length: 2 * LARGEST_EXPONENT + 1 }, (_, index) => index - LARGEST_EXPONENT);

function exponentBetween(source: UnitDefinition, target: UnitDefinition): number | undefined {
  if (source.offset.digits !== 0n || target.offset.digits !== 0n) return undefined;
  const numerator = multiply(source.numerator, target.denominator);
  const denominator = multiply(source.denominator, target.numerator);
  return EXPONENTS.find((exponent) => compare(numerator, shift(denominator, exponent)) === 0);
}
