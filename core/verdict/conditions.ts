import type { Orientation, Zone } from "../certificate/certificate.js";
import type { Conditions, Range } from "../grades/grade.js";
import { compare, type Decimal, decimal } from "../quantity/decimal.js";
import type { Quantity } from "../quantity/quantity.js";
import type { ProductFacts } from "../requirement/product-facts.js";
import { normaliseCondition, normaliseForm, sameCondition } from "../requirement/product-words.js";

/** Whether a limit's conditions hold for this product: yes, no, or unknown because a fact is missing (which are named). */
export interface Match {
  readonly state: "yes" | "no" | "unknown";
  readonly unknown: readonly string[];
}

type State = Match["state"];

/** Product conditions only: form, thickness, delivery condition. Zone and orientation belong to the single test. */
export function matchProduct(when: Conditions | undefined, facts: ProductFacts): Match {
  const states: readonly (readonly [name: string, state: State])[] = [
    ["form", matchForm(when?.form, facts.form)],
    ["thickness", matchThickness(when?.thickness, facts.thicknessMm)],
    ["condition", matchCondition(when?.condition, facts.condition)],
  ];
  if (states.some(([, state]) => state === "no")) return { state: "no", unknown: [] };
  const unknown = states.filter(([, state]) => state === "unknown").map(([name]) => name);
  return { state: unknown.length > 0 ? "unknown" : "yes", unknown };
}

export function isInRange(value: Decimal, range: Range): boolean {
  if (range.over !== undefined && compare(value, decimal(range.over)) <= 0) return false;
  if (range.from !== undefined && compare(value, decimal(range.from)) < 0) return false;
  if (range.upTo !== undefined && compare(value, decimal(range.upTo)) > 0) return false;
  return !(range.under !== undefined && compare(value, decimal(range.under)) >= 0);
}

/** A weld's limit does not hold a base-metal test, and the other way round. A test without a zone is one of the base metal. */
export function zoneMatches(limitZone: Zone | undefined, testZone: Zone | undefined): boolean {
  return (limitZone ?? "base") === (testZone ?? "base");
}

/** Ferrite Numbers are those of weld metal: one whose zone is not stated answers for the weld too. */
export function isTestOfZone(quantity: Quantity, limitZone: Zone | undefined, testZone: Zone | undefined): boolean {
  return (quantity === "FN" && limitZone === "weld" && testZone === undefined) || zoneMatches(limitZone, testZone);
}

export function orientationMatches(limit: Orientation | undefined, test: Orientation | undefined): State {
  if (limit === undefined) return "yes";
  if (test === undefined) return "unknown";
  return limit === test ? "yes" : "no";
}

/**
 * A narrower word in the standard ("hot-rolled plate") is in doubt for the broader word on the certificate ("plate"), and so is a
 * word of the same family.
 */
export function matchForm(wanted: readonly string[] | undefined, form: string | undefined): State {
  if (wanted === undefined) return "yes";
  if (form === undefined) return "unknown";
  const own = normaliseForm(form);
  const forms = wanted.map(normaliseForm);
  if (forms.some((candidate) => candidate === own || endsWithWord(own, candidate))) return "yes";
  const family = FAMILIES[own] ?? [];
  const isKin = forms.some((candidate) => endsWithWord(candidate, own) || family.includes(candidate));
  return isKin ? "unknown" : "no";
}

/** What a certificate may call a product that a standard names more closely (common practice, no source). */
const FAMILIES: Readonly<Record<string, readonly string[]>> = {
  "weld metal": ["wire", "rod", "covered electrode"],
  flange: ["forging"],
  fitting: ["forging"],
  section: ["shape"],
  sheet: ["strip"],
  strip: ["sheet"],
};

function endsWithWord(text: string, word: string): boolean {
  return text.endsWith(` ${word}`);
}

function matchThickness(range: Range | undefined, thicknessMm: Decimal | undefined): State {
  if (range === undefined) return "yes";
  if (thicknessMm === undefined) return "unknown";
  return isInRange(thicknessMm, range) ? "yes" : "no";
}

function matchCondition(wanted: readonly string[] | undefined, condition: string | undefined): State {
  if (wanted === undefined) return "yes";
  if (condition === undefined) return "unknown";
  return wanted.some((candidate) => sameCondition(normaliseCondition(candidate) ?? candidate, condition))
    ? "yes"
    : "no";
}
