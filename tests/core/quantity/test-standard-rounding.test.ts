import { describe, expect, it } from "vitest";
import { decimal, formatDecimal } from "../../../core/quantity/decimal.js";
import { isQuantity, type Quantity } from "../../../core/quantity/quantity.js";
import {
  REPORTING_RULES,
  reportedByTestStandard,
  type TestStandard,
} from "../../../core/quantity/test-standard-rounding.js";
import type { Unit } from "../../../core/quantity/unit.js";

function reported(quantity: Quantity, value: string, unit: Unit, standard: TestStandard, limit?: string) {
  const result = reportedByTestStandard(
    quantity,
    { value: decimal(value), unit },
    standard,
    limit ? decimal(limit) : undefined,
  );
  return result && formatDecimal(result.value);
}

describe("results as the test standard reports them", () => {
  it.each([
    ["Rm", "514.5", "MPa", "ISO 6892-1", "514"],
    ["Rp0.2", "255.51", "MPa", "ISO 6892-1", "256"],
    ["A", "40.24", "%", "ISO 6892-1", "40.0"],
    ["A", "40.25", "%", "ISO 6892-1", "40.0"], // halfway: 80 and a half steps, even is 80
    ["A", "40.26", "%", "ISO 6892-1", "40.5"],
    ["Z", "64.5", "%", "ISO 6892-1", "64"],
    ["E", "199.86", "GPa", "ISO 6892-1", "199.9"],
    ["Rm", "74.6", "ksi", "ISO 6892-1", undefined],
    ["KV", "60", "J", "ISO 6892-1", undefined],
    ["Rm", "499.9", "MPa", "ASTM A370", "500"],
    ["Rm", "500", "MPa", "ASTM A370", "500"],
    ["Rm", "502.5", "MPa", "ASTM A370", "500"],
    ["Rm", "507.5", "MPa", "ASTM A370", "510"],
    ["Rm", "1004", "MPa", "ASTM A370", "1000"],
    ["Rm", "49.94", "ksi", "ASTM A370", "49.9"],
    ["Rm", "50.2", "ksi", "ASTM A370", "50.0"],
    ["Rm", "100.5", "ksi", "ASTM A370", "100"],
    ["Rm", "74740", "psi", "ASTM A370", "74500"],
    ["A50", "9.74", "%", "ASTM A370", "9.5"],
    ["A50", "10.4", "%", "ASTM A370", "10"],
    ["KV", "20.5", "ft.lbf", "ASTM A370", "20"],
    ["HRB", "91.6", "HRB", "ASTM A370", "92"],
    ["HBW", "201.4", "HBW", "ASTM A370", undefined],
  ] as const)("%s %s %s by %s: %s", (quantity, value, unit, standard, expected) => {
    expect(reported(quantity, value, unit, standard)).toBe(expected);
  });

  it("reports chemistry to the places of the limit, and never invents places", () => {
    expect(reported("C", "0.0285", "%", "ASTM A751", "0.030")).toBe("0.028");
    expect(reported("C", "0.0285", "%", "ASTM A751", "0.03")).toBe("0.03");
    expect(reported("C", "0.03", "%", "ASTM A751", "0.030")).toBe("0.03");
    expect(reported("C", "0.0285", "%", "ASTM A751")).toBeUndefined();
    expect(reported("Rm", "514.5", "MPa", "ASTM A751", "515")).toBeUndefined();
  });

  it("says which step was taken, how it is known, and takes the finer one only below its bound", () => {
    const by = (text: string, unit: Unit) => reportedByTestStandard("Rm", { value: decimal(text), unit }, "ASTM A370");
    expect(by("499.9", "MPa")).toMatchObject({ step: decimal("1"), known: { how: "memory", sources: 0 } });
    expect(by("500", "MPa")).toMatchObject({ step: decimal("5") });
    expect(by("1000", "MPa")).toMatchObject({ step: decimal("10") });
    expect(by("100", "ksi")).toMatchObject({ step: decimal("1") });
    const carbon = { value: decimal("0.0285"), unit: "%" } as const;
    expect(reportedByTestStandard("C", carbon, "ASTM A751", decimal("0.030"))).toEqual({
      value: decimal("0.028"),
      step: decimal("0.001"),
      known: { how: "memory", sources: 0 },
    });
  });

  it("has steps for quantities that exist, the open one last in each unit", () => {
    for (const { steps } of REPORTING_RULES) {
      for (const step of steps) for (const quantity of step.of) expect(isQuantity(quantity)).toBe(true);
      const open = steps.filter((step) => !("under" in step)).map((step) => `${step.of.join()} ${step.unit}`);
      expect(new Set(open).size).toBe(open.length);
    }
  });
});
