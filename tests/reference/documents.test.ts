import { describe, expect, it } from "vitest";
import { findDocumentType } from "../../core/recogniser/document-type.js";
import { documentTypeFacts } from "../../core/requirement/document-types.js";
import { loadCases, textOf } from "./reference-cases.js";

const cases = loadCases("documents");

describe("EN 10204:2004 types", () => {
  it.each(cases.filter(({ given }) => "type" in given).map((each) => [each.id, each] as const))(
    "%s",
    (_id, reference) => {
      const facts = documentTypeFacts(textOf(reference.given, "type"))!;
      expect({
        has_results: facts.hasResults,
        specific_inspection: facts.specificInspection,
        validated_by: facts.validatedBy,
      }).toEqual(reference.expect);
    },
  );
});

describe("names of the 1991 edition, read from a heading", () => {
  it.each(cases.filter(({ given }) => "old" in given).map((each) => [each.id, each] as const))(
    "%s",
    (_id, reference) => {
      const found = findDocumentType(`Inspection certificate EN 10204 ${textOf(reference.given, "old")}`);
      expect(found?.type ?? null).toBe(reference.expect.new);
    },
  );
});
