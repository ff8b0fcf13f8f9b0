import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { type Decimal, decimal } from "../../core/quantity/decimal.js";
import type { Measure } from "../../core/quantity/measure.js";
import { isUnit } from "../../core/quantity/unit.js";

const value = z.union([z.string(), z.boolean(), z.null(), z.array(z.string())]);

const caseSchema = z.strictObject({
  id: z.string(),
  /** The rule or formula that the case is about, in words. */
  rule: z.string(),
  /** Numbers as text, with their unit where they have one. */
  given: z.record(z.string(), value),
  expect: z.record(z.string(), value),
  /** Absent: exact. */
  tolerance: z.strictObject({ abs: z.number().optional(), rel: z.number().optional() }).optional(),
  source: z.string(),
  /** seen: read in the source. memory: recalled, to be checked before it counts. derived: true by construction. */
  evidence: z.enum(["seen", "memory", "derived"]),
  /** Independent sources that agree. */
  sources: z.number(),
  /** published: the source prints the number. computed: worked out from the source's formula. */
  expected: z.enum(["published", "computed"]),
  note: z.string().optional(),
});
export type ReferenceCase = z.infer<typeof caseSchema>;

export function loadCases(file: string): ReferenceCase[] {
  const text = readFileSync(new URL(`data/methods/${file}.json`, import.meta.url), "utf8");
  return z.array(caseSchema).parse(JSON.parse(text));
}

/** Runs every case of a file. Recalled ones stand apart, so that nobody takes them for evidence. */
export function checkCases(file: string, check: (reference: ReferenceCase) => void): void {
  const cases = loadCases(file);
  const recalled = cases.filter((reference) => reference.evidence === "memory");
  const seen = cases.filter((reference) => reference.evidence !== "memory");
  const titled = (list: ReferenceCase[]) => list.map((each) => [each.id, each.source, each] as const);

  if (seen.length > 0)
    describe("seen or derived", () => it.each(titled(seen))("%s: %s", (_id, _from, each) => check(each)));
  if (recalled.length > 0)
    describe("from memory", () => it.each(titled(recalled))("%s: %s", (_id, _from, each) => check(each)));
}

/** Text of a case's value; throws where the case has none, so that a misspelt name cannot pass. */
export function textOf(values: ReferenceCase["given"], name: string): string {
  const text = values[name];
  if (typeof text !== "string") throw new Error(`no text under ${name}`);
  return text;
}

export function listOf(values: ReferenceCase["given"], name: string): string[] {
  const list = values[name];
  if (!Array.isArray(list)) throw new Error(`no list under ${name}`);
  return list;
}

/** The number of "515 MPa" or "0.018 %", exactly. */
export function decimalOf(text: string): Decimal {
  return decimal(text.split(" ")[0]!);
}

export function measureOf(text: string): Measure {
  const unit = text.split(" ")[1] ?? "1";
  if (!isUnit(unit)) throw new Error(`no unit of ours: ${unit}`);
  return { value: decimalOf(text), unit };
}

/** The binary number, for formulas that are no exact arithmetic. */
export function numberOf(text: string): number {
  return Number.parseFloat(text);
}

/** Every number that the case expects, within its tolerance. */
export function expectNumbers(reference: ReferenceCase, actual: Readonly<Record<string, number | undefined>>): void {
  expect(Object.keys(actual).sort()).toEqual(Object.keys(reference.expect).sort());
  for (const [name, number] of Object.entries(actual)) {
    expectNear(number, numberOf(textOf(reference.expect, name)), reference.tolerance, name);
  }
}

export function expectNear(
  actual: number | undefined,
  expected: number,
  tolerance: ReferenceCase["tolerance"],
  name: string,
): void {
  const allowed = tolerance?.abs ?? Math.abs(expected) * (tolerance?.rel ?? 0);
  expect(actual, name).toBeDefined();
  expect(Math.abs(actual! - expected), `${name}: ${actual} against ${expected}`).toBeLessThanOrEqual(allowed);
}
