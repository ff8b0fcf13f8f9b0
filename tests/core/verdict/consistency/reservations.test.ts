import { expect, test } from "vitest";
import { reservationContradictions } from "../../../../core/verdict/consistency/consistency.js";

test("what a paper says against itself is told once, however often it says it", () => {
  const judgements = reservationContradictions([
    { reservations: [{ printed: "PRELIMINARY" }, { printed: "PRELIMINARY" }] },
    {},
    { reservations: [{ printed: "typical values" }] },
  ]);
  expect(judgements).toMatchObject([
    { outcome: "undetermined", reason: "contradiction", says: { what: 'a document says of itself "PRELIMINARY"' } },
    { outcome: "undetermined", reason: "contradiction", says: { what: 'a document says of itself "typical values"' } },
  ]);
});

test("a paper that says nothing against itself gives no finding", () => {
  expect(reservationContradictions([{}, { reservations: [] }])).toEqual([]);
});
