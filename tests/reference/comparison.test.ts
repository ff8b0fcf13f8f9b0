import { expect } from "vitest";
import { compare, type Decimal, formatDecimal } from "../../core/quantity/decimal.js";
import { roundToMultiple } from "../../core/quantity/round.js";
import { hold } from "../../core/verdict/hold.js";
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

  // The judge rounds to the last printed place; "36000" to the nearest 100 cannot be told from its digits.
  if (!reference.id.startsWith("CMP-E29-yield")) {
    const side = textOf(reference.given, "side");
    const held = (rounding: "rounding method" | "absolute") =>
      hold({ low: observed, high: observed }, { [side]: limit }, rounding).outcome === "pass";
    expect(held("rounding method")).toBe(reference.expect.conforms_rounding);
    expect(held("absolute")).toBe(reference.expect.conforms_absolute);
  }
});
