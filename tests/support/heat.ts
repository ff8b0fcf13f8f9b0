import type { GradeClaim, Product, Reading, Statement } from "../../core/certificate/certificate.js";
import { numbered } from "../../core/certificate/join-heats.js";
import type { JoinedHeat } from "../../core/certificate/joined-heat.js";
import { decimal } from "../../core/quantity/decimal.js";
import { kindOf, type Quantity, reportUnit } from "../../core/quantity/quantity.js";
import type { Unit } from "../../core/quantity/unit.js";
import { parseMeasure } from "../../core/requirement/parse-measure.js";

const PLACE = { document: 0, sheet: "Sheet1", cell: "B2" } as const;

/** One reading: "0.021", "<0.005" or "70 ksi"; the unit is the report's where none is written. */
export function reading(quantity: Quantity, text: string, more: Partial<Reading> = {}): Reading {
  const match = /^(<=|>=|<|>)?\s*([\d.-]+)\s*(\S+)?$/.exec(text);
  if (!match) throw new Error(`not a reading: ${text}`);
  const [, bound, number, unit] = match;
  return {
    quantity,
    printed: text,
    value: decimal(number!),
    unit: (unit ?? reportUnit(quantity)) as Unit,
    ...(bound !== undefined && { bound: bound as "<" }),
    confidence: 1,
    evidence: PLACE,
    ...(kindOf(quantity) === "chemistry" && { analysis: "heat" as const }),
    ...more,
  };
}

export function statement<T>(value: T, printed = String(value)): Statement<T> {
  return { value, printed, confidence: 1, evidence: PLACE };
}

export function heatOf(
  readings: readonly Reading[],
  more: { claims?: readonly GradeClaim[]; product?: Product; confidence?: number; heat?: string } = {},
): JoinedHeat {
  return {
    heat: more.heat ?? "H4471",
    readings: numbered(readings),
    claims: (more.claims ?? [{ standard: "ASTM A240/A240M", grade: "304L" }]).map((claim) =>
      statement(claim, claim.grade),
    ),
    products: [more.product ?? {}],
    documents: [0],
    evidence: [PLACE],
    confidence: more.confidence ?? 1,
  };
}

/** A heat of 304L that meets ASTM A240 in everything, with some values replaced ("0.034") or left out (null). */
export function clean304L(changes: Partial<Record<Quantity, string | null>> = {}): Reading[] {
  const values: Partial<Record<Quantity, string | null>> = {
    C: "0.021",
    Si: "0.41",
    Mn: "1.62",
    P: "0.031",
    S: "0.002",
    Cr: "18.21",
    Ni: "8.12",
    N: "0.062",
    Rm: "604",
    "Rp0.2": "291",
    A50: "54",
    HBW: "171",
    ...changes,
  };
  return Object.entries(values).flatMap(([quantity, text]) =>
    text === null || text === undefined ? [] : [reading(quantity as Quantity, text)],
  );
}

/** Three impact singles of one set, with the mean where it is printed. */
export function impactSet(
  singles: readonly string[],
  more: Partial<Reading> & { average?: string; at?: string } = {},
): Reading[] {
  const { average, at = "-196 °C", ...facts } = more;
  const shared: Partial<Reading> = { test: "impact 1", temperature: parseMeasure(at, "temperature")!, ...facts };
  return [
    ...singles.map((single) => reading("KV", single, { statistic: "single", ...shared })),
    ...(average === undefined ? [] : [reading("KV", average, { statistic: "average", ...shared })]),
  ];
}
