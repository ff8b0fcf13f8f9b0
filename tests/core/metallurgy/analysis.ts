import type { Chemistry, Ingredient } from "../../../core/metallurgy/chemistry.js";
import { decimal } from "../../../core/quantity/decimal.js";

/** "C 0.02, Mo <0.01, Nb >1" as an analysis. */
export function analysis(text: string): Chemistry {
  return new Map(
    text.split(",").map((part) => {
      const [, of, bound, value] = /^\s*(\w+)\s+([<>]=?)?([-\d.]+)\s*$/.exec(part)!;
      return [of as Ingredient, { value: decimal(value!), ...(bound && { bound: bound as "<" }) }];
    }),
  );
}

/** Typical, invented. */
export const ANALYSES = {
  "301": analysis("C 0.10, Si 0.50, Mn 1.00, Cr 17.0, Ni 7.0, N 0.03"),
  "304": analysis("C 0.05, Si 0.45, Mn 1.50, Cr 18.3, Ni 8.3, Mo 0.10, Cu 0.20, N 0.05"),
  "304L": analysis("C 0.020, Si 0.45, Mn 1.50, Cr 18.2, Ni 8.1, Mo 0.20, Cu 0.30, N 0.07"),
  "308L weld": analysis("C 0.03, Si 0.5, Mn 1.8, Cr 20.0, Ni 10.0, Mo 0.1, Cu 0.1, N 0.05, Nb 0.01"),
  "310": analysis("C 0.05, Si 0.40, Mn 1.50, Cr 25.0, Ni 20.0, N 0.03"),
} as const;
