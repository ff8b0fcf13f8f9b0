import { isQuantity, kindOf } from "../../quantity/quantity.js";
import type { CurveReport } from "./reduction-report.js";

/** "heat H4471"; a record that names no heat says so itself. */
export function heatWords(heat: string): string {
  return heat.startsWith("heat ") ? heat : `heat ${heat}`;
}

/** The laboratory's own result beside a reduced one. Its elongation often names no gauge length. */
export function statedFor({ stated }: CurveReport, quantity: string): CurveReport["stated"][number] | undefined {
  const isElongation = isQuantity(quantity) && kindOf(quantity) === "elongation";
  return stated.find((result) => result.quantity === quantity || (isElongation && result.quantity === "Elongation"));
}
