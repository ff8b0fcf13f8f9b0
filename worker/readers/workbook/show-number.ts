import { absolute, type Decimal, formatDecimal, parseDecimal, shift } from "../../../core/quantity/decimal.js";
import { roundHalfAway } from "../../../core/quantity/round.js";
import type { Cell } from "../../../core/recogniser/cells.js";
import type { NumberFormat, NumberSection } from "./number-format.js";
import { showDate, showTime } from "./serial-date.js";

export type ShownNumber = Pick<Cell, "text" | "number" | "formatUnit" | "date"> & {
  /** The format shows nothing of the value. */
  readonly hidden?: boolean;
  /** The number as stored, where the format puts figures of its own in its place or beside it. */
  readonly instead?: string;
};

/** What a person sees of a stored number, and the number itself. */
export function showNumber(stored: number, format: NumberFormat, from1904: boolean): ShownNumber {
  if (format.kind === "date") return showDate(stored, from1904) ?? plain(stored);
  if (format.kind === "time") return { text: showTime(stored) };
  if (format.kind === "number") return showInSections(stored, format);
  return plain(stored);
}

/**
 * The shortest decimal that a spreadsheet would tell apart. Spreadsheets keep 15 digits; what stands beyond them
 * (0.30000000000000004 for 0.1 + 0.2) is dust of binary arithmetic and would decide a comparison with 0.30.
 */
export function shortestDecimal(stored: number): string {
  const asStored = String(stored);
  const text = asStored.length <= 15 ? asStored : String(Number(stored.toPrecision(15)));
  const match = /^(-?)(\d+)(?:\.(\d+))?e([+-]\d+)$/.exec(text);
  if (!match) return text;
  const [, sign = "", whole = "", fraction = "", exponent] = match;
  const power = Number(exponent);
  if (Math.abs(power) > 40) return text; // No measured value; it stays text that no number is read from.
  const digits = whole + fraction;
  if (power > 0) return sign + digits.padEnd(power + 1, "0");
  return `${sign}0.${"0".repeat(-power - 1)}${digits}`;
}

function plain(stored: number): ShownNumber {
  const number = shortestDecimal(stored);
  return number.includes("e") ? { text: number } : { text: number, number };
}

function showInSections(stored: number, format: NumberFormat & { kind: "number" }): ShownNumber {
  const section = pickSection(stored, format);
  const value = parseDecimal(shortestDecimal(stored));
  if (!value) return plain(stored);
  if (section.hidesNumber) {
    const words = (section.prefix + section.suffix).trim();
    if (words === "") return { ...plain(stored), hidden: true };
    return /\d/.test(words) ? { text: words, hidden: true, instead: shortestDecimal(stored) } : { text: words };
  }

  // Under a percent format the unit is part of the number: 0.02 is given as 2 with the unit %.
  const scaled = section.percent ? shift(value, 2) : value;
  const shown = roundTo(formatDecimal(absolute(scaled)), section);
  const sign = stored < 0 && /[1-9]/.test(shown) ? "-" : "";
  // Brackets and signs of a section for negatives say no more than the sign does.
  const prefix = section.prefix.replace(/[(+-]/g, "");
  const suffix = section.suffix.replace(/\)/g, "");
  const text = `${prefix}${sign}${shown}${suffix}`.trim();
  // "0."0 shows 21 as 0.21.
  if (/[\d.,]$/.test(prefix) || /^[\d.,]/.test(suffix)) return { text, hidden: true, instead: shortestDecimal(stored) };
  // "<"0.000 shows a bound and "Rm "0 a name: the words belong to the value, so the cell is text.
  if (prefix.trim() !== "") return { text };
  const number = section.percent ? formatDecimal(trimZeros(scaled)) : shortestDecimal(stored);
  const formatUnit = suffix.trim();
  return { text, number, ...(formatUnit === "" ? {} : { formatUnit }) };
}

function pickSection(stored: number, { positive, negative, zero }: NumberFormat & { kind: "number" }): NumberSection {
  if (stored < 0) return negative ?? positive;
  return stored === 0 ? (zero ?? positive) : positive;
}

function roundTo(magnitude: string, { mostPlaces, leastPlaces, leastWholeDigits }: NumberSection): string {
  const rounded = formatDecimal(roundHalfAway(parseDecimal(magnitude)!, mostPlaces));
  const [whole = "", places = ""] = rounded.split(".");
  let kept = places;
  while (kept.length > leastPlaces && kept.endsWith("0")) kept = kept.slice(0, -1);
  const digits = leastWholeDigits === 0 && whole === "0" && kept !== "" ? "" : whole.padStart(leastWholeDigits, "0");
  return kept === "" ? digits : `${digits}.${kept}`;
}

function trimZeros(value: Decimal): Decimal {
  let { digits, places } = value;
  while (places > 0 && digits % 10n === 0n) {
    digits /= 10n;
    places--;
  }
  return { digits, places };
}
