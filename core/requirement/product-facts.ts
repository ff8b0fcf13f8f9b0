import type { Product } from "../certificate/certificate.js";
import { compare, type Decimal, formatShortest } from "../quantity/decimal.js";
import { measureIn } from "../quantity/measure.js";
import { parseMeasure } from "./parse-measure.js";
import { normaliseCondition, normaliseForm, sameCondition } from "./product-words.js";
import type { Requirement } from "./requirement.js";

/** What is known of the delivered product when limits are chosen. Left out: unknown. */
export interface ProductFacts {
  readonly form?: string;
  readonly thicknessMm?: Decimal;
  readonly condition?: string;
  /** Conditions in words that are not known here: the product may be in one that no limit is chosen for. */
  readonly strangeConditions?: readonly string[];
  /** What the requirement and the documents, or two documents, say differently; such a fact is left unknown. */
  readonly disagreements: readonly string[];
}

/** The requirement's product and what the documents say, brought together. What they disagree on is not known. */
export function productFacts(requirement: Requirement | null, products: readonly Product[]): ProductFacts {
  const ordered = requirement?.product;
  const forms = [ordered?.form, ...products.map((product) => product.form?.value)].flatMap(known).map(normaliseForm);
  const stated = [ordered?.condition, ...products.map((product) => product.condition?.value)].flatMap(known);
  const conditions = stated.map(normaliseCondition).flatMap(known);
  const strange = [...new Set(stated.filter((words) => normaliseCondition(words) === undefined))];
  const thicknesses = [
    ordered?.thickness === undefined ? undefined : parseMeasure(ordered.thickness, "length"),
    ...products.map((product) => product.thickness?.value),
  ]
    .flatMap(known)
    .map((measure) => measureIn(measure, "mm"))
    .flatMap(known);

  // The narrower of two words that agree says more: "plate" and "hot rolled plate".
  const longestFirst = [...forms].sort((left, right) => right.length - left.length);
  const form = agreed("form", longestFirst, (left, right) => left === right || left.endsWith(` ${right}`), String);
  const condition = agreed("condition", conditions, sameCondition, String);
  // What was ordered chooses the limits, however a document puts it; but words of a document never stand in for strange ones of the order.
  const isOrderKnown = ordered?.condition !== undefined && !strange.includes(ordered.condition);
  const isConditionSure = strange.length === 0 || isOrderKnown;
  const thickness = agreed(
    "thickness",
    thicknesses,
    (left, right) => compare(left, right) === 0,
    (value) => `${formatShortest(value)} mm`,
  );
  return {
    ...(form.value !== undefined && { form: form.value }),
    ...(thickness.value !== undefined && { thicknessMm: thickness.value }),
    ...(condition.value !== undefined && isConditionSure && { condition: condition.value }),
    ...(strange.length > 0 && { strangeConditions: strange }),
    disagreements: [form, thickness, condition].flatMap((fact) => known(fact.disagreement)),
  };
}

function agreed<T>(
  name: string,
  values: readonly T[],
  same: (left: T, right: T) => boolean,
  print: (value: T) => string,
) {
  const [first, ...rest] = values;
  if (first === undefined) return {};
  const other = rest.find((value) => !same(first, value));
  return other === undefined ? { value: first } : { disagreement: `${name}: ${print(first)} and ${print(other)}` };
}

function known<T>(value: T | undefined): T[] {
  return value === undefined ? [] : [value];
}
