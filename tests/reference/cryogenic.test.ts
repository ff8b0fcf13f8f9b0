import { expect } from "vitest";
import { compare } from "../../core/quantity/decimal.js";
import { isBaseMetalExempt, lateralExpansionMinimum } from "../../core/requirement/uha51.js";
import { checkCases, decimalOf, textOf } from "./reference-cases.js";

checkCases("cryogenic", (reference) => {
  const mdmtC = decimalOf(textOf(reference.given, "MDMT"));
  if ("exempt" in reference.expect) {
    return expect(isBaseMetalExempt(decimalOf(textOf(reference.given, "C")), mdmtC)).toBe(reference.expect.exempt);
  }
  const reached = compare(decimalOf(textOf(reference.given, "LE")), lateralExpansionMinimum(mdmtC).eachMm) >= 0;
  expect(reached).toBe(reference.expect.accepted);
});
