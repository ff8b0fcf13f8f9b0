import { expect, it } from "vitest";
import { dateContradictions } from "../../../../core/verdict/consistency/consistency.js";
import { sayings } from "./saying.js";

const said = (testDate: string | undefined, date: string | undefined) =>
  sayings(
    dateContradictions([
      { ...(testDate && { testDate: { value: testDate } }), ...(date && { date: { value: date } }) },
    ]),
  );

it.each([
  ["2026-02-27", "2026-02-28", 0],
  ["2026-02-28", "2026-02-28", 0],
  ["2026-03-01", "2026-02-28", 1],
  ["2027-01-01", "2026-12-31", 1],
  [undefined, "2026-02-28", 0],
  ["2026-02-28", undefined, 0],
])("tested %s, signed %s: %i", (testDate, date, count) => {
  expect(said(testDate, date)).toHaveLength(count);
});

it("names both dates", () => {
  expect(said("2026-03-01", "2026-02-28")).toEqual([
    "the test date 2026-03-01 is after the certificate's date 2026-02-28",
  ]);
});
