import { absolute, compare, type Decimal, formatDecimal } from "../../quantity/decimal.js";
import { trimPlaces } from "../../quantity/fraction.js";
import { roundHalfEven } from "../../quantity/round.js";

interface Bounds {
  readonly min?: Decimal;
  readonly max?: Decimal;
}

/** More places than this beyond the limit's own tell a reader nothing. */
const PLACES_BEYOND_LIMIT = 2;

/**
 * A computed or converted value with two places more than its limit: 52.00 J of 52.0000 J against 60 J. More places where these
 * would put it on another side of a bound. Values with fewer places stay as they are.
 */
export function shownValue(value: Decimal, limit: Bounds = {}): string {
  const bounds = [limit.min, limit.max].filter((bound) => bound !== undefined);
  if (bounds.length === 0) return shortened(value);
  const isSameSide = (shown: Decimal) => bounds.every((bound) => compare(shown, bound) === compare(value, bound));
  let places = Math.max(...bounds.map((bound) => bound.places)) + PLACES_BEYOND_LIMIT;
  while (places < value.places && !isSameSide(roundHalfEven(value, places))) places++;
  return formatDecimal(places < value.places ? roundHalfEven(value, places) : value);
}

/** A distance to a limit, likewise; one above zero is never shown as zero. */
export function shownDistance(distance: Decimal, limit: Bounds): string {
  const places = Math.max(limit.min?.places ?? 0, limit.max?.places ?? 0) + PLACES_BEYOND_LIMIT;
  if (distance.places <= places) return formatDecimal(distance);
  const rounded = roundHalfEven(distance, places);
  return rounded.digits === 0n && distance.digits !== 0n ? shortened(distance) : formatDecimal(rounded);
}

const PLACES_AS_THEY_ARE = 4;
const SIGNIFICANT_DIGITS = 6;

/** A long number to six significant digits, written out: never as a power of ten. */
function shortened(value: Decimal): string {
  if (value.places <= PLACES_AS_THEY_ARE) return formatDecimal(value);
  const surplus = Math.max(0, absolute(value).digits.toString().length - SIGNIFICANT_DIGITS);
  return formatDecimal(trimPlaces(roundHalfEven(value, Math.max(0, value.places - surplus)), 0));
}
