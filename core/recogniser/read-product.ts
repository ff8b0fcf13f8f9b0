import type { Product, Statement } from "../certificate/certificate.js";
import { compare, type Decimal } from "../quantity/decimal.js";
import type { Measure } from "../quantity/measure.js";
import type { Unit } from "../quantity/unit.js";
import type { DecimalSign } from "./decimal-sign.js";
import { tidy, withoutAccents } from "./plain-text.js";
import { readDigits } from "./read-number.js";
import type { FieldStatement } from "./result-row.js";
import { CONDITIONS, FORMS } from "./vocabulary/products.js";

/** What the fields say of the product: its form, thickness and delivery condition. What they don't say stays unsaid. */
export function readProduct(fields: readonly FieldStatement[], sign: DecimalSign): Product {
  const form = firstOf(fields, ["form", "grade", "standard"], (text) => findWord(text, FORMS));
  const thickness = firstOf(fields, ["thickness", "size", "form"], (text, field) => readThickness(text, field, sign));
  const condition =
    firstOf(fields, ["condition"], (text) => findWord(text, CONDITIONS) ?? tidy(text).toLowerCase()) ??
    firstOf(fields, ["grade", "form"], (text) => findWord(text, CONDITIONS));
  return { ...(form && { form }), ...(thickness && { thickness }), ...(condition && { condition }) };
}

function firstOf<T>(
  fields: readonly FieldStatement[],
  names: readonly string[],
  read: (text: string, field: string) => T | undefined,
): Statement<T> | undefined {
  for (const name of names) {
    for (const { field, statement } of fields) {
      if (field !== name) continue;
      const value = read(statement.value, field);
      if (value !== undefined) return { ...statement, value };
    }
  }
  return undefined;
}

function findWord(text: string, words: readonly (readonly [string, readonly string[]])[]): string | undefined {
  const plain = withoutAccents(tidy(text)).toLowerCase();
  const isIn = (word: string) => {
    const at = plain.indexOf(word);
    if (at < 0) return false;
    // "+n" must not be found in "+nt", nor "bar" in "barrel"; plural endings are let through.
    return (
      !/[a-z]/.test(plain[at - 1] ?? " ") &&
      (word.length > 5 || /^(?:s|es|e|en|n|i)?(?![a-z])/.test(plain.slice(at + word.length)))
    );
  };
  return words.find(([, names]) => names.some(isIn))?.[0];
}

const NUMBER = String.raw`\d*[.,]?\d+`;
const THICKNESS = new RegExp(`(?:^|[^\\d.,])(${NUMBER})\\s?(mm|in|inch)\\b`, "i");
const SIZES = new RegExp(
  `(?:Ø\\s?)?(${NUMBER})\\s?(mm)?\\s?x\\s?(${NUMBER})(?:\\s?(mm)?\\s?x\\s?(${NUMBER}))?\\s?(mm|in\\b)?`,
  "i",
);

/** "12 mm"; "12 x 2000 x 6000 mm" and "168.3 x 7.11": plates and walls are thinner than they are wide, so the smallest counts. */
function readThickness(text: string, field: string, sign: DecimalSign): Measure | undefined {
  const tidied = tidy(text);
  const sizes = SIZES.exec(tidied);
  if (sizes) {
    const numbers = [sizes[1], sizes[3], sizes[5]].flatMap((digits) => (digits ? [toDecimal(digits, sign)] : []));
    if (numbers.some((number) => number === undefined)) return undefined;
    const smallest = (numbers as Decimal[]).reduce((least, number) => (compare(number, least) < 0 ? number : least));
    return { value: smallest, unit: toUnit(sizes[6] ?? sizes[4] ?? sizes[2]) };
  }
  if (field === "form") return undefined;
  const match = THICKNESS.exec(tidied);
  const value = match && toDecimal(match[1]!, sign);
  return value ? { value, unit: toUnit(match?.[2]) } : undefined;
}

function toDecimal(digits: string, sign: DecimalSign): Decimal | undefined {
  const value = readDigits(digits, sign);
  return value === "ambiguous" ? undefined : value;
}

function toUnit(printed: string | undefined): Unit {
  return printed && /^in/i.test(printed) ? "in" : "mm";
}
