import { toNumber } from "../../core/quantity/decimal.js";
import { measureIn } from "../../core/quantity/measure.js";
import { checkCases, expectNumbers, measureOf, textOf } from "./reference-cases.js";

checkCases("units", (reference) => {
  const { unit } = measureOf(textOf(reference.expect, "x"));
  expectNumbers(reference, { x: toNumber(measureIn(measureOf(textOf(reference.given, "x")), unit)!) });
});
