import { OUTCOMES, type Outcome } from "./finding.js";

/** The weightiest outcome. Nothing judged has not passed. */
export function worstOutcome(outcomes: readonly Outcome[]): Outcome {
  const worst = OUTCOMES.find((outcome) => outcomes.includes(outcome));
  if (worst === undefined || worst === "not-applicable") return "undetermined";
  return worst;
}

/** Sorts worst first without touching the order of equals. */
export function worstFirst<T extends { readonly outcome: Outcome }>(items: readonly T[]): T[] {
  return [...items].sort((left, right) => OUTCOMES.indexOf(left.outcome) - OUTCOMES.indexOf(right.outcome));
}
