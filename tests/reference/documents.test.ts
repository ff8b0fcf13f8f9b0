import { describe, expect, it } from "vitest";
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

describe("names of the 1991 edition", () => {
  for (const { id, given } of cases.filter((each) => "old" in each.given)) it.todo(`${id}: ${given.old}`);
});
