import { expect } from "vitest";
import { compare, type Decimal, formatDecimal } from "../../core/quantity/decimal.js";
import { roundToMultiple } from "../../core/quantity/round.js";
import { checkCases, decimalOf, textOf } from "./reference-cases.js";

// ASTM E29: the rounding method compares after rounding to the step, the absolute method as it stands.
checkCases("comparison", (reference) => {
  const observed = decimalOf(textOf(reference.given, "observed"));
  const limit = decimalOf(textOf(reference.given, "limit"));
  const rounded = roundToMultiple(observed, decimalOf(textOf(reference.given, "quantum")));
  const conforms = (value: Decimal) =>
    textOf(reference.given, "side") === "min" ? compare(value, limit) >= 0 : compare(value, limit) <= 0;

  expect(formatDecimal(rounded)).toBe(textOf(reference.expect, "rounded").split(" ")[0]);
  expect(conforms(rounded)).toBe(reference.expect.conforms_rounding);
  expect(conforms(observed)).toBe(reference.expect.conforms_absolute);
});
