import type { Reading } from "../certificate/certificate.js";
import { type Decimal, parseDecimal } from "../quantity/decimal.js";
import { type DecimalSign, provenSign } from "./decimal-sign.js";
import { splitMark } from "./footnotes.js";
import { tidy } from "./plain-text.js";

export type PrintedNumber =
  | {
      readonly kind: "number";
      readonly value: Decimal;
      readonly bound?: NonNullable<Reading["bound"]>;
      readonly trailer: string;
      /** Of a footnote behind it, as `splitMark` gives it. */
      readonly mark?: string;
    }
  /** "98/102/95": several values in one cell. */
  | { readonly kind: "several"; readonly values: readonly Decimal[]; readonly trailer: string; readonly mark?: string }
  /** Empty by agreement: "-", "n.a.", "not tested". */
  | { readonly kind: "blank" }
  /** "18.0 - 20.0", "max 0.030": a limit, not a result. */
  | { readonly kind: "limit" }
  /** "1,234" with nothing to say which sign it is. */
  | { readonly kind: "ambiguous" }
  /** "0.0211)": 0.021 and a footnote, or 0.0211 and half a pair of brackets. */
  | { readonly kind: "mark-unclear" }
  | { readonly kind: "unreadable" };

const BLANKS =
  /^(?:[-./*\s]*|n\.? ?[adt]\.?|n\/a|na|nil|none|not (?:tested|required|applicable|determined|reported)|bal(?:ance)?\.?|rem(?:ainder)?\.?|rest|base|nt|nd)$/i;
const LIMIT = /(?:^|\s)(?:max|min|maxi|mini|maximum|minimum|m[aá]x|m[ií]n|mind|höchst)\b\.?/i;
const DIGITS = "\\d{1,3}(?: \\d{3})+(?:[.,]\\d+)?|\\d*(?:[.,]\\d+)+|\\d+";
const RANGE = new RegExp(`^\\(?(?:${DIGITS})\\s?%?\\s?(?:-|\\.\\.\\.?|÷|to|bis|à|a)\\s?(?:${DIGITS})\\s?%?\\)?$`, "i");
const SERIES = new RegExp(`^((?:${DIGITS})(?:\\s?[/;|]\\s?(?:${DIGITS})){1,5})\\s?([^\\d/;|]{0,12})$`);
const ONE = new RegExp(`^(<=|>=|<|>|≤|≥|=<|=>)?\\s?([+-]?(?:${DIGITS}))\\s?(.*)$`);

/** Reads the text of one cell. What follows the number ("%", "MPa", "HB") is handed back as `trailer`. */
export function readNumber(text: string, sign: DecimalSign): PrintedNumber {
  if (text.length > 60) return { kind: "unreadable" };
  const { value: print, mark } = splitMark(text);
  const tidied = tidy(print);
  if (BLANKS.test(tidied)) return { kind: "blank" };
  if (!/\d/.test(tidied)) return { kind: "unreadable" };
  if (LIMIT.test(tidied) || RANGE.test(tidied)) return { kind: "limit" };

  if (/\d\)$/.test(tidied) && !tidied.includes("(")) return { kind: "mark-unclear" };
  const number = readUnmarked(tidied, sign);
  return mark === undefined || !("trailer" in number) ? number : { ...number, mark };
}

function readUnmarked(tidied: string, sign: DecimalSign): PrintedNumber {
  const series = SERIES.exec(tidied);
  if (series) return readSeries(series[1]!, series[2]!.trim(), sign);

  const match = ONE.exec(tidied);
  if (!match) return { kind: "unreadable" };
  const [, boundPrint, digits = "", trailer = ""] = match;
  // "1O5", "0.02l": digits that run into letters are one misread number, not a number with a unit.
  if (/^[.,]?[\doOlIS|]*\d/.test(trailer) || /^[oOlI|](?![a-z])/.test(trailer)) return { kind: "unreadable" };
  const value = readDigits(digits, sign);
  if (value === "ambiguous") return { kind: "ambiguous" };
  if (!value) return { kind: "unreadable" };
  const bound = boundPrint && BOUNDS[boundPrint];
  return { kind: "number", value, trailer: trailer.trim(), ...(bound && { bound }) };
}

const BOUNDS: Readonly<Record<string, NonNullable<Reading["bound"]>>> = {
  "<": "<",
  ">": ">",
  "<=": "<=",
  ">=": ">=",
  "=<": "<=",
  "=>": ">=",
  "≤": "<=",
  "≥": ">=",
};

function readSeries(list: string, trailer: string, sign: DecimalSign): PrintedNumber {
  const values = list.split(/[/;|]/).map((part) => readDigits(part.trim(), sign));
  if (values.includes("ambiguous")) return { kind: "ambiguous" };
  if (values.some((value) => value === undefined)) return { kind: "unreadable" };
  return { kind: "several", values: values as Decimal[], trailer };
}

/** "0,0213", ".0213", "1 234,5", "1.234,5". A print with two meanings is settled by `sign` or is ambiguous. */
export function readDigits(print: string, sign: DecimalSign): Decimal | "ambiguous" | undefined {
  const grouped = /^[+-]?\d{1,3}(?: \d{3})+(?:[.,]\d+)?$/.test(print);
  const compact = grouped ? print.replaceAll(" ", "") : print;
  const unsigned = compact.replace(/^[+-]/, "");
  if (/^\d+$/.test(unsigned)) return parseDecimal(compact);
  const decimalSign = provenSign(unsigned) ?? (grouped ? lastSeparator(unsigned) : settle(unsigned, sign));
  if (!hasWholeGroups(unsigned)) return undefined;
  if (decimalSign === undefined) return "ambiguous";
  if (decimalSign === "none") return parseDecimal(compact.replace(/[.,]/g, ""));
  const [decimalMark, groupMark] = decimalSign === "comma" ? [",", "."] : [".", ","];
  const plain = compact.replaceAll(groupMark, "");
  return plain.split(decimalMark).length > 2 ? undefined : parseDecimal(plain.replace(decimalMark, "."));
}

/** Thousands come in threes: "1.234,5" and "1,234,567" do, "1.2.3" does not. */
function hasWholeGroups(print: string): boolean {
  const separators = print.replace(/\d/g, "");
  if (separators.length < 2) return true;
  const parts = print.split(/[.,]/);
  const groups = new Set(separators).size === 1 ? parts : parts.slice(0, -1);
  return /^\d{1,3}$/.test(groups[0]!) && groups.slice(1).every((group) => group.length === 3);
}

function lastSeparator(print: string): "comma" | "point" {
  return print.lastIndexOf(",") > print.lastIndexOf(".") ? "comma" : "point";
}

/** A print that proves nothing: "1,234" or "1,234,567". The table's own sign tells thousands from fraction. */
function settle(print: string, sign: DecimalSign): "comma" | "point" | "none" | undefined {
  const separators = print.replace(/\d/g, "");
  const mark = separators[0] === "," ? "comma" : "point";
  if (separators.length > 1) return "none";
  if (sign === "mixed" || sign === "unknown") return undefined;
  return sign === mark ? mark : "none";
}
