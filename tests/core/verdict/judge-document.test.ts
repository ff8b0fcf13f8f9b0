import { describe, expect, it } from "vitest";
import type { Certificate, Reading } from "../../../core/certificate/certificate.js";
import { requirementSchema } from "../../../core/requirement/requirement.js";
import { judgeDocumentType } from "../../../core/verdict/judge-document.js";
import { reading, statement } from "../../support/heat.js";
import { outcomesOf } from "../../support/judging.js";

const certificate = (type?: string, confidence = 1, readings: readonly Reading[] = []): Certificate => ({
  ...(type !== undefined && { type: { ...statement(type), confidence } }),
  heats: [{ heat: statement("H 4471"), readings, claims: [], product: {} }],
  doubts: [],
});
const ofMill = (type?: string) => certificate(type, 1, [reading("C", "0.021")]);
const ofLaboratory = (type?: string) => certificate(type, 1, [reading("KV", "80")]);
const judged = (wanted: string | undefined, ...certificates: Certificate[]) =>
  judgeDocumentType(
    requirementSchema.parse({ requirement: 1, name: "T-204", ...(wanted && { document: { type: wanted } }) }),
    certificates,
    "H4471",
  );

// EN 10204: a higher type serves for a lower one.
describe("inspection document type", () => {
  it.each([
    ["3.1", "3.2", "pass"],
    ["3.1", "3.1", "pass"],
    ["3.1", "2.2", "fail"],
    ["2.1", "2.1", "pass"],
    ["3.2", "3.1", "fail"],
    ["3.1", undefined, "undetermined not-reported"],
  ])("wanted %s, stated %s: %s", (wanted, stated, outcome) => {
    expect(outcomesOf(judged(wanted, certificate(stated)))).toEqual([outcome]);
  });

  it("takes the highest that can be read", () => {
    expect(outcomesOf(judged("3.1", certificate("2.2"), certificate("3.1"), certificate("2.1")))).toEqual(["pass"]);
    expect(outcomesOf(judged("3.1", certificate("3.1", 0.85)))).toEqual(["pass"]);
    expect(outcomesOf(judged("3.1", certificate("3.1", 0.84)))).toEqual(["undetermined low-confidence"]);
    expect(judged("3.1", certificate("2.2"), certificate())[0]?.says).toEqual({
      code: "document-type",
      stated: "2.2",
      wanted: "3.1",
    });
  });

  // The laboratory's paper cannot raise the inspection of the mill's, and needs no type of its own.
  it.each([
    ["the mill's type counts", ofMill("2.2"), ofLaboratory("3.1"), "fail"],
    ["the mill's paper states none", ofMill(), ofLaboratory("3.1"), "undetermined not-reported"],
    ["the laboratory's states none", ofMill("3.1"), ofLaboratory(), "pass"],
    ["the laboratory's states a lower one", ofMill("3.1"), ofLaboratory("2.2"), "undetermined document-type"],
    ["both state it", ofMill("3.1"), ofLaboratory("3.1"), "pass"],
  ])("%s", (_, mill, laboratory, outcome) => {
    expect(outcomesOf(judged("3.1", mill, laboratory))).toEqual([outcome]);
    expect(outcomesOf(judged("3.1", laboratory, mill))).toEqual([outcome]);
  });

  it("is asked for by the requirement only", () => {
    expect(judged(undefined, certificate("2.1"))).toEqual([]);
    expect(judgeDocumentType(null, [certificate("2.1")], "H4471")).toEqual([]);
  });
});
