/**
 * A decimal number exactly as printed: 0.030 is 30 with three places, and is not the same print as 0.03.
 * Nothing here is binary floating point, so a comparison can be trusted to the last digit.
 */
export interface Decimal {
  readonly digits: bigint;
  readonly places: number;
}

const MAX_PRINTED_LENGTH = 60;

/** Reads plain decimal notation with a point: "0.030", "-196", "+12.5", ".03". Anything else is undefined. */
export function parseDecimal(text: string): Decimal | undefined {
  const trimmed = text.trim();
  if (trimmed.length > MAX_PRINTED_LENGTH) return undefined;
  const match = /^([+-]?)(\d*)(?:\.(\d*))?$/.exec(trimmed);
  if (!match) return undefined;
  const fraction = match[3] ?? "";
  const digits = `${match[2]}${fraction}`;
  if (digits === "") return undefined;
  return { digits: match[1] === "-" ? -BigInt(digits) : BigInt(digits), places: fraction.length };
}

/** As `parseDecimal`, for literals in code and data that are known to be decimals. Throws on anything else. */
export function decimal(text: string): Decimal {
  const value = parseDecimal(text);
  if (!value) throw new Error(`not a decimal number: ${JSON.stringify(text)}`);
  return value;
}

/** Prints all places, trailing zeros included: the inverse of `parseDecimal`. */
export function formatDecimal(value: Decimal): string {
  const negative = value.digits < 0n;
  const magnitude = (negative ? -value.digits : value.digits).toString().padStart(value.places + 1, "0");
  const whole = magnitude.slice(0, magnitude.length - value.places);
  const fraction = magnitude.slice(magnitude.length - value.places);
  return `${negative ? "-" : ""}${whole}${value.places > 0 ? `.${fraction}` : ""}`;
}

/** Prints without zeros at the end: 9.525 of an exact conversion that came out as 9.525000000000000. */
export function formatShortest(value: Decimal): string {
  return value.places > 0 ? formatDecimal(value).replace(/[.]?0+$/, "") : formatDecimal(value);
}

/** The same number with more places; `places` must not be fewer than the value has. */
export function extend(value: Decimal, places: number): Decimal {
  if (places < value.places) throw new Error(`extend cannot drop places (${value.places} to ${places})`);
  // Most values have the places of their limit already.
  return places === value.places ? value : { digits: value.digits * tenTo(places - value.places), places };
}

/** 10 to a whole exponent of 0 or more. */
export function tenTo(exponent: number): bigint {
  return POWERS_OF_TEN[exponent] ?? 10n ** BigInt(exponent);
}

/** Places as they are printed, and those that unit conversions add. */
const POWERS_OF_TEN: readonly bigint[] = Array.from({ length: 33 }, (_, exponent) => 10n ** BigInt(exponent));

/** -1, 0 or 1. 0.03 and 0.030 are equal in size. */
export function compare(left: Decimal, right: Decimal): -1 | 0 | 1 {
  const places = Math.max(left.places, right.places);
  const leftDigits = extend(left, places).digits;
  const rightDigits = extend(right, places).digits;
  return leftDigits < rightDigits ? -1 : leftDigits > rightDigits ? 1 : 0;
}

export function add(left: Decimal, right: Decimal): Decimal {
  const places = Math.max(left.places, right.places);
  return { digits: extend(left, places).digits + extend(right, places).digits, places };
}

export function negate(value: Decimal): Decimal {
  return { digits: -value.digits, places: value.places };
}

export function subtract(left: Decimal, right: Decimal): Decimal {
  const places = Math.max(left.places, right.places);
  return { digits: extend(left, places).digits - extend(right, places).digits, places };
}

export function absolute(value: Decimal): Decimal {
  return value.digits < 0n ? negate(value) : value;
}

export function multiply(left: Decimal, right: Decimal): Decimal {
  return { digits: left.digits * right.digits, places: left.places + right.places };
}

/** Multiplies by a power of ten without rounding: `shift(18, -3)` is 0.018. */
export function shift(value: Decimal, powerOfTen: number): Decimal {
  const places = value.places - powerOfTen;
  return { digits: value.digits * tenTo(Math.max(-places, 0)), places: Math.max(places, 0) };
}

/** The nearest binary number, for plotting and for formulas that end in a logarithm. Never for comparing. */
export function toNumber(value: Decimal): number {
  return Number(formatDecimal(value));
}
