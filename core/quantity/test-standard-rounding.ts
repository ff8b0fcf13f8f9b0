import { compare, type Decimal, decimal } from "./decimal.js";
import type { Measure } from "./measure.js";
import { ELONGATIONS, isElement, type Quantity, STRENGTHS } from "./quantity.js";
import { roundHalfEven, roundToMultiple } from "./round.js";
import type { Unit } from "./unit.js";

/** How one test standard has its results reported, before any limit is looked at. */
export interface ReportingRule {
  readonly standard: string;
  readonly clause: string;
  readonly known: { readonly how: "seen" | "memory"; readonly sources: number };
  readonly steps: readonly ReportingStep[];
  readonly note?: string;
}

/** The first step whose `under` is above the value applies; one without `under` takes the rest. */
interface ReportingStep {
  readonly of: readonly Quantity[];
  readonly unit: Unit;
  readonly under?: string;
  readonly step: string;
}

const EXTENSIONS = [...ELONGATIONS, "Ag", "Agt"] as const;

export const REPORTING_RULES = [
  {
    standard: "ISO 6892-1",
    clause: "22 (2019)",
    known: { how: "seen", sources: 1 },
    steps: [
      { of: STRENGTHS, unit: "MPa", step: "1" },
      { of: EXTENSIONS, unit: "%", step: "0.5" },
      { of: ["Z"], unit: "%", step: "1" },
      { of: ["E"], unit: "GPa", step: "0.1" },
    ],
    note: "Rounding by ISO 80000-1, whose rule for ties is not fixed; half to even (rule A) is taken. Finer reporting is allowed.",
  },
  {
    standard: "ASTM A370",
    clause: "annex on rounding of test data",
    known: { how: "memory", sources: 0 },
    steps: [
      { of: STRENGTHS, unit: "MPa", under: "500", step: "1" },
      { of: STRENGTHS, unit: "MPa", under: "1000", step: "5" },
      { of: STRENGTHS, unit: "MPa", step: "10" },
      { of: STRENGTHS, unit: "ksi", under: "50", step: "0.1" },
      { of: STRENGTHS, unit: "ksi", under: "100", step: "0.5" },
      { of: STRENGTHS, unit: "ksi", step: "1" },
      { of: STRENGTHS, unit: "psi", under: "50000", step: "100" },
      { of: STRENGTHS, unit: "psi", under: "100000", step: "500" },
      { of: STRENGTHS, unit: "psi", step: "1000" },
      { of: [...EXTENSIONS, "Z"], unit: "%", under: "10", step: "0.5" },
      { of: [...EXTENSIONS, "Z"], unit: "%", step: "1" },
      { of: ["KV"], unit: "J", step: "1" },
      { of: ["KV"], unit: "ft.lbf", step: "1" },
      { of: ["HRB"], unit: "HRB", step: "1" },
      { of: ["HRC"], unit: "HRC", step: "1" },
    ],
    note: "Only where the product specification has no rule of its own.",
  },
] as const satisfies readonly ReportingRule[];

export type TestStandard = (typeof REPORTING_RULES)[number]["standard"] | "ASTM A751";

export interface Reported {
  readonly value: Decimal;
  /** The multiple that the result was rounded to, half to even. */
  readonly step: Decimal;
  readonly known: ReportingRule["known"];
}

/**
 * A result as the test standard has it reported; undefined where the standard has no step for that quantity and unit.
 * ASTM A751 asks chemistry for as many places as the specified limit has, so it needs the limit.
 */
export function reportedByTestStandard(
  quantity: Quantity,
  result: Measure,
  standard: TestStandard,
  limit?: Decimal,
): Reported | undefined {
  if (standard === "ASTM A751") return limit && isElement(quantity) ? reportedChemistry(result, limit) : undefined;
  const rule: ReportingRule = REPORTING_RULES.find((candidate) => candidate.standard === standard)!;
  const found = rule.steps.find(
    (step) => step.of.includes(quantity) && step.unit === result.unit && isUnder(result.value, step.under),
  );
  if (!found) return undefined;
  const step = decimal(found.step);
  return { value: roundToMultiple(result.value, step), step, known: rule.known };
}

/** Recalled from ASTM A751: more places than the limit are rounded by E29, fewer are reported as they are. */
function reportedChemistry(result: Measure, limit: Decimal): Reported {
  const places = Math.min(limit.places, result.value.places);
  return {
    value: roundHalfEven(result.value, places),
    step: { digits: 1n, places },
    known: { how: "memory", sources: 0 },
  };
}

function isUnder(value: Decimal, under: string | undefined): boolean {
  return under === undefined || compare(value, decimal(under)) < 0;
}
