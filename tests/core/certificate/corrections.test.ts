import { describe, expect, it } from "vitest";
import type { Certificate } from "../../../core/certificate/certificate.js";
import { applyCorrections, type Corrections, correctionsSchema } from "../../../core/certificate/corrections.js";
import { formatDecimal } from "../../../core/quantity/decimal.js";
import { reading, statement } from "../../support/heat.js";

const SHA256 = "a".repeat(64);
const AT = { sheet: "Sheet1", cell: "C7" };
const certificate: Certificate = {
  heats: [
    {
      heat: statement("H4471"),
      readings: [reading("C", "0.034", { confidence: 0.6, evidence: { document: 0, ...AT } })],
      claims: [],
      product: {},
    },
  ],
  doubts: [],
};

function apply(item: Partial<Corrections["items"][number]>) {
  const corrections = correctionsSchema.parse({
    corrections: 1,
    by: "M. Ostergaard",
    date: "2026-03-09",
    items: [{ document: SHA256, evidence: AT, quantity: "C", ...item }],
  });
  const after = applyCorrections(certificate, 0, SHA256, corrections);
  return { after, first: after.heats[0]!.readings[0]!, last: after.heats[0]!.readings.at(-1)! };
}

describe("applyCorrections", () => {
  it("confirms a reading as it is", () => {
    const { first } = apply({});
    expect([formatDecimal(first.value), first.confidence]).toEqual(["0.034", 1]);
    expect(first.notes).toEqual(["confirmed by M. Ostergaard on 2026-03-09"]);
  });

  it("corrects a value, and keeps what was printed and who changed it", () => {
    const { first } = apply({ value: "0.024" });
    expect([formatDecimal(first.value), first.printed, first.confidence]).toEqual(["0.024", "0.034", 1]);
    expect(first.notes?.[0]).toBe('corrected from "0.034" to 0.024 by M. Ostergaard on 2026-03-09');
  });

  it("enters a value where nothing was read, for a heat that the document names", () => {
    const { after, last } = apply({
      quantity: "Mn",
      value: "1.62",
      heat: "h-4471",
      evidence: { sheet: "Sheet1", cell: "D7" },
    });
    expect([last.quantity, formatDecimal(last.value)]).toEqual(["Mn", "1.62"]);
    expect(last.notes?.[0]).toContain("it was not read");
    expect(after.doubts).toEqual([]);
  });

  it.each<[string, Partial<Corrections["items"][number]>]>([
    ["another place", { evidence: { sheet: "Sheet1", cell: "C8" } }],
    ["another quantity", { quantity: "Mn" }],
    ["a heat that is not there", { quantity: "Mn", value: "1.6", heat: "H9", evidence: { sheet: "S", cell: "A1" } }],
    ["a value that is no number", { value: "0,024" }],
  ])("says that a correction for %s was not applied", (_, item) => {
    const { after, first } = apply(item);
    expect(first).toEqual(certificate.heats[0]!.readings[0]);
    expect(after.doubts.map(({ code }) => code)).toEqual(["correction-not-applied"]);
  });

  it("settles a doubt at the place that was looked at", () => {
    const evidence = { document: 0, sheet: "Sheet1", cell: "D7" };
    const doubts = [{ code: "not-a-number", message: "?", quantity: "Mn", heat: "H4471", evidence }];
    const corrections = correctionsSchema.parse({
      corrections: 1,
      by: "M. Ostergaard",
      date: "2026-03-09",
      items: [
        { document: SHA256, evidence: { sheet: "Sheet1", cell: "D7" }, quantity: "Mn", value: "1.6", heat: "H4471" },
      ],
    });
    expect(applyCorrections({ ...certificate, doubts }, 0, SHA256, corrections).doubts).toEqual([]);
  });

  it("leaves other documents alone", () => {
    expect(apply({ document: "b".repeat(64) }).after).toEqual(certificate);
  });

  it("corrects a heat number and says so", () => {
    const evidence = { sheet: "Sheet1", cell: "B2" };
    const { after } = apply({ quantity: "heat", value: "H4477", evidence });
    expect(after.heats[0]!.heat.value).toBe("H4477");
    expect(after.doubts[0]?.message).toContain("corrected to H4477 by M. Ostergaard");
  });
});
