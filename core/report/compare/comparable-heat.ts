import type { Reading } from "../../certificate/certificate.js";
import type { JoinedHeat } from "../../certificate/joined-heat.js";

/** What comparing needs of a heat, whether its documents were read just now or its report was stored long ago. */
export interface ComparableHeat {
  readonly heat: string;
  /** Names of its grades: "304L". */
  readonly grades: readonly string[];
  /** Delivery conditions: "solution annealed", "full hard". The same grade is another material in another one. */
  readonly conditions: readonly string[];
  readonly readings: readonly ComparableReading[];
}

export type ComparableReading = Pick<
  Reading,
  "quantity" | "value" | "unit" | "bound" | "confidence" | "zone" | "temperature" | "statistic"
>;

export function comparableHeat({ heat, claims, products, readings }: JoinedHeat): ComparableHeat {
  return {
    heat,
    grades: [...new Set(claims.map(({ value }) => value.grade))],
    conditions: [...new Set(products.flatMap(({ condition }) => (condition ? [condition.value] : [])))],
    readings,
  };
}
