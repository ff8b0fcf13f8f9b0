import type { Reading } from "../../../core/certificate/certificate.js";
import type { JoinedHeat } from "../../../core/certificate/joined-heat.js";
import type { Grade, Limit } from "../../../core/grades/grade.js";
import { decimal } from "../../../core/quantity/decimal.js";
import { ELEMENTS, kindOf } from "../../../core/quantity/quantity.js";
import { normaliseCondition } from "../../../core/requirement/product-words.js";
import { matchProduct } from "../../../core/verdict/conditions.js";
import { heatOf, reading, statement } from "../../support/heat.js";

/** Thicknesses that together fall into a bracket of every grade held. */
const THICKNESSES_MM = ["12", "1", "0.6", "20", "50"];

/** A heat that lies comfortably inside every limit of a grade, delivered in one of its forms. */
export function middlingHeat(grade: Grade): JoinedHeat {
  const product = productFor(grade);
  const facts = { ...product, thicknessMm: decimal(product.thickness), disagreements: [] };
  const limits = grade.limits.filter((limit) => matchProduct(limit.when, facts).state === "yes");
  return heatOf([...chemistryWithin(limits), ...mechanicalWithin(limits)], {
    claims: [{ standard: grade.standard, grade: grade.designations[0]! }],
    product: {
      form: statement(product.form),
      thickness: statement({ value: decimal(product.thickness), unit: "mm" }),
      ...(product.condition !== undefined && { condition: statement(product.condition) }),
    },
  });
}

function productFor({ forms, limits }: Grade): { form: string; thickness: string; condition?: string } {
  const condition = limits.flatMap((limit) => limit.when?.condition ?? []).find((word) => normaliseCondition(word));
  const finished = limits.flatMap((limit) => limit.when?.form ?? []).filter((form) => /-(finished|rolled) /.test(form));
  const form = finished[0] ?? forms[0]!;
  const fitting = THICKNESSES_MM.find((thickness) =>
    limits.some(({ quantity, when }) => {
      const facts = {
        form,
        thicknessMm: decimal(thickness),
        ...(condition !== undefined && { condition }),
        disagreements: [],
      };
      return quantity === "Rm" && matchProduct(when, facts).state === "yes";
    }),
  );
  return { form, thickness: fitting ?? "12", ...(condition !== undefined && { condition }) };
}

/** What carbon equivalents count, whether or not the grade limits it. */
const FORMULA_ELEMENTS = ["C", "Si", "Mn", "Cr", "Mo", "V", "Ni", "Cu", "B"];

/** Elements with a maximum only are kept low, so that sums and ratios of them hold too. */
function chemistryWithin(limits: readonly Limit[]): Reading[] {
  const needed = new Set(
    limits.flatMap(({ minFrom, formula }) => [...(minFrom?.of ?? []), ...(formula ? FORMULA_ELEMENTS : [])]),
  );
  return ELEMENTS.flatMap((element) => {
    const own = limits.filter(
      ({ quantity, analysis, sumOf }) => quantity === element && sumOf === undefined && analysis !== "product",
    );
    const sums = limits.filter(({ sumOf }) => sumOf?.includes(element));
    if (own.length === 0 && sums.length === 0) return needed.has(element) ? [reading(element, "0.0100")] : [];
    const minima = own.flatMap((limit) => (limit.min === undefined ? [] : [Number(limit.min)]));
    const shares = sums.flatMap(({ min: bottom, sumOf }) =>
      bottom === undefined ? [] : [Number(bottom) / sumOf!.length],
    );
    const min = Math.max(0, ...minima, ...shares);
    const max = Math.min(
      ...own.flatMap((limit) => (limit.max === undefined ? [] : [Number(limit.max)])),
      ...sums.map(({ sumOf, max: top }) => Number(top) / sumOf!.length),
      100,
    );
    const isComputed = [...own, ...sums].some(({ minFrom }) => minFrom !== undefined);
    const value = min > 0 ? min + (Math.min(max, min * 1.2) - min) * 0.4 : max * (isComputed ? 0.8 : 0.15);
    return [reading(element, Math.max(value, 0.0002).toFixed(4))];
  });
}

function mechanicalWithin(limits: readonly Limit[]): Reading[] {
  return limits.flatMap((limit) => {
    const kind = kindOf(limit.quantity);
    if (kind === "chemistry" || kind === "index") return [];
    const orientation = limit.when?.orientation && { orientation: limit.when.orientation };
    const value = `${middle(limit).toFixed(2)} ${limit.unit}`;
    if (limit.impact === undefined)
      return isRepeated(limit, limits) ? [] : [reading(limit.quantity, value, { ...orientation })];
    const test = {
      test: limit.id,
      statistic: "single" as const,
      temperature: { value: decimal(limit.impact.temperature), unit: "°C" as const },
      ...orientation,
    };
    return [1, 2, 3].map(() => reading(limit.quantity, value, test));
  });
}

/** Minimum and maximum may be two limits; one reading, of the first, is enough for both. */
function isRepeated(limit: Limit, limits: readonly Limit[]): boolean {
  const first = limits.find(
    (other) => other.quantity === limit.quantity && other.when?.orientation === limit.when?.orientation,
  );
  return first !== limit;
}

function middle({ quantity, min, max }: Limit): number {
  if (min !== undefined && max !== undefined) return (Number(min) + Number(max)) / 2;
  if (min !== undefined) return Number(min) * (quantity.startsWith("R") ? 1.02 : 1.2);
  return max === undefined ? 30 : Number(max) * 0.9;
}
