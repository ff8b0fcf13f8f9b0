import { describe, expect, it } from "vitest";
import type { Certificate } from "../../../core/certificate/certificate.js";
import { requirementSchema } from "../../../core/requirement/requirement.js";
import { judgeDocumentType } from "../../../core/verdict/judge-document.js";
import { statement } from "../../support/heat.js";
import { outcomesOf } from "../../support/judging.js";

const certificate = (type?: string, confidence = 1): Certificate => ({
  ...(type !== undefined && { type: { ...statement(type), confidence } }),
  heats: [],
  doubts: [],
});
const judged = (wanted: string | undefined, ...certificates: Certificate[]) =>
  judgeDocumentType(
    requirementSchema.parse({ requirement: 1, name: "T-204", ...(wanted && { document: { type: wanted } }) }),
    certificates,
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

  it("is asked for by the requirement only", () => {
    expect(judged(undefined, certificate("2.1"))).toEqual([]);
    expect(judgeDocumentType(null, [certificate("2.1")])).toEqual([]);
  });
});
