import { expect } from "vitest";
import type { Limit, ToleranceTable } from "../../core/grades/grade.js";
import { judgeLimit } from "../../core/verdict/judge-limit.js";
import { reading } from "../support/heat.js";
import { checkCases, type ReferenceCase, textOf } from "./reference-cases.js";

// ASTM A751: chromium 18.00 to 20.00 %, a tolerance of 0.20 % on product analysis and none on heat analysis.
checkCases("product-analysis", (reference) => {
  const kind = textOf(reference.given, "kind") as "heat" | "product";
  const [judgement] = judgeLimit(
    {
      limit: chromiumLimit(reference),
      id: "example#Cr",
      source: { standard: "ASTM A751", known: SEEN },
      rounding: "absolute",
      tolerances: tolerances(reference),
      hasOwnProductLimit: false,
    },
    {
      readings: [{ ...reading("Cr", numberIn(reference, "Cr"), { analysis: kind }), id: 1 }],
      doubts: [],
      facts: { disagreements: [] },
      claimedStandards: [],
    },
  ).filter((candidate) => candidate.readings.length > 0);

  expect(judgement!.outcome).toBe(reference.expect.conforms ? "pass" : "fail");
});

const SEEN = { how: "seen", sources: 1 } as const;

function chromiumLimit(reference: ReferenceCase): Limit {
  return {
    id: "Cr",
    quantity: "Cr",
    unit: "%",
    analysis: "heat",
    min: numberIn(reference, "min"),
    max: numberIn(reference, "max"),
    source: { clause: "example" },
    known: SEEN,
  };
}

function tolerances(reference: ReferenceCase): ToleranceTable {
  const tolerance = numberIn(reference, "tolerance");
  const rows = [
    { element: "Cr" as const, limit: { upTo: "30" }, underMin: tolerance, overMax: tolerance, known: SEEN },
  ];
  return { id: "example", standard: "ASTM A751", edition: "2020", rows };
}

function numberIn(reference: ReferenceCase, name: string): string {
  return textOf(reference.given, name).split(" ")[0]!;
}
