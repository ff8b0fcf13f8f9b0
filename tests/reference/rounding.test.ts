import { expect } from "vitest";
import { compare, decimal, formatDecimal, shift } from "../../core/quantity/decimal.js";
import { roundHalfAway, roundHalfEven, roundToMultiple } from "../../core/quantity/round.js";
import { reportedByTestStandard } from "../../core/quantity/test-standard-rounding.js";
import { checkCases, decimalOf, measureOf, type ReferenceCase, textOf } from "./reference-cases.js";

checkCases("rounding", (reference) => {
  if (reference.id.startsWith("RND-6892")) return checkReported(reference, "Rm", "ISO 6892-1");
  if (reference.id.startsWith("RND-A370"))
    return checkReported(reference, A370_QUANTITY[unitOf(reference)]!, "ASTM A370");
  const x = decimal(textOf(reference.given, "x"));
  const quantum = decimal(textOf(reference.given, "quantum"));
  if ("ruleB" in reference.expect) {
    expectEqual(textOf(reference.expect, "ruleA"), roundToMultiple(x, quantum));
    // Rule B in steps of a power of ten: count the steps, then put the point back.
    const power = textOf(reference.given, "quantum") === "10" ? 1 : -1;
    return expectEqual(textOf(reference.expect, "ruleB"), shift(roundHalfAway(shift(x, -power), 0), power));
  }
  expectEqual(textOf(reference.expect, "rounded"), roundToMultiple(x, quantum));
  // Where the step is one unit of a place, rounding to that place is the same thing.
  if (quantum.digits === 1n) expectEqual(textOf(reference.expect, "rounded"), roundHalfEven(x, quantum.places));
});

const A370_QUANTITY: Readonly<Record<string, "Rm" | "A50">> = { MPa: "Rm", ksi: "Rm", "%": "A50" };

function unitOf(reference: ReferenceCase): string {
  return textOf(reference.given, "x").split(" ")[1]!;
}

function checkReported(reference: ReferenceCase, quantity: "Rm" | "A50", standard: "ISO 6892-1" | "ASTM A370") {
  const [given] = Object.values(reference.given);
  const reported = reportedByTestStandard(quantity, measureOf(given as string), standard)!;
  expectEqual(textOf(reference.expect, "reported"), reported.value);
  if (reference.given.quantum !== undefined) expectEqual(textOf(reference.given, "quantum"), reported.step);
}

function expectEqual(expected: string, actual: ReturnType<typeof decimal>): void {
  expect(compare(actual, decimalOf(expected)), `${formatDecimal(actual)} against ${expected}`).toBe(0);
}
