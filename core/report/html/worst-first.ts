import { OUTCOMES } from "../../verdict/finding.js";
import type { ReportHeat } from "../report.js";

/** Heats with their numbers in the report, those that need a person first; of one verdict, in the documents' order. */
export function worstFirst(heats: readonly ReportHeat[]): readonly (readonly [heat: ReportHeat, number: number])[] {
  return OUTCOMES.flatMap((outcome) =>
    heats.map((heat, index) => [heat, index + 1] as const).filter(([heat]) => heat.verdict === outcome),
  );
}
