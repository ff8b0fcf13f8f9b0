import { expect, it } from "vitest";
import type { ToleranceTable } from "../../../core/grades/grade.js";
import { straddles } from "../../../core/verdict/straddle.js";
import { reading } from "../../support/heat.js";
import { appliedLimit, evidenceOf, MEMORY, outcomesOf, SEEN } from "../../support/judging.js";

const table = (known: typeof SEEN): ToleranceTable => ({
  id: "ours",
  standard: "ASTM X2",
  edition: "2020",
  rows: [
    { element: "Cr", limit: { upTo: "20.00" }, underMin: "0.20", overMax: "0.20", known },
    { element: "Mn", limit: { upTo: "2.00" }, overMax: "0.04", known: MEMORY },
  ],
});
const RANGE = { quantity: "Cr", min: "17.5", max: "19.5", analysis: "heat" } as const;
const product = (text: string) => reading("Cr", text, { analysis: "product" });

// EN 10088-2, product analysis: several determinations may lie above the range or below it, not both.
it.each<[string, ReturnType<typeof reading>[], string[]]>([
  ["one below and one above", [product("17.4"), product("19.6")], ["fail"]],
  ["on both ends", [product("17.5"), product("19.5")], []],
  ["two below", [product("17.3"), product("17.4")], []],
  ["the one above is the heat's", [product("17.4"), reading("Cr", "19.6")], []],
  ["the one below is only bounded", [product("<17.4"), product("19.6")], []],
  ["the one below is of another element", [reading("Ni", "17.4", { analysis: "product" }), product("19.6")], []],
  ["the one below has a unit that is no share of mass", [product("17.4 MPa"), product("19.6")], []],
])("several determinations, %s", (_, readings, outcomes) => {
  expect(outcomesOf(straddles(appliedLimit(RANGE, { tolerances: table(SEEN) }), evidenceOf(readings)))).toEqual(
    outcomes,
  );
});

it("rests on the determinations outside, and decides only where the standard's table is verified", () => {
  const evidence = evidenceOf([product("17.4"), product("18.0"), product("19.6")]);
  const [seen] = straddles(appliedLimit(RANGE, { tolerances: table(SEEN) }), evidence);
  expect(seen).toMatchObject({ outcome: "fail", readings: [{ id: 1 }, { id: 3 }], says: { code: "straddles" } });
  const [recalled] = straddles(appliedLimit(RANGE, { tolerances: table(MEMORY) }), evidence);
  expect(recalled).toMatchObject({ reason: "reference-unverified", source: { by: { known: MEMORY } } });
  expect(outcomesOf(straddles(appliedLimit(RANGE), evidence))).toEqual(["undetermined reference-unverified"]);
});

it("is known no better than the least known row of the table", () => {
  const disputed = { how: "seen", sources: 2, conflict: "0.20 and 0.25" } as const;
  const { rows, ...more } = table(SEEN);
  const tolerances = { ...more, rows: [...rows, { ...rows[0]!, known: disputed }] };
  const evidence = evidenceOf([product("17.4"), product("19.6")]);
  const name = "product-analysis tolerance";
  expect(straddles(appliedLimit(RANGE, { tolerances }), evidence)).toMatchObject([
    { reason: "reference-unverified", source: { by: { name, known: disputed } }, notes: [] },
  ]);
  expect(straddles(appliedLimit(RANGE), evidence)).toMatchObject([{ source: { by: { name, known: MEMORY } } }]);
});

it("is no matter of one-sided limits and of sums", () => {
  const evidence = evidenceOf([product("17.4"), product("19.6")]);
  expect(straddles(appliedLimit({ quantity: "Cr", max: "19.5" }), evidence)).toEqual([]);
  expect(straddles(appliedLimit({ quantity: "Cr", min: "17.5" }), evidence)).toEqual([]);
  expect(straddles(appliedLimit({ ...RANGE, sumOf: ["Cr", "Mo"] }), evidence)).toEqual([]);
});
