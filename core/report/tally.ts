import { OUTCOMES, type Outcome } from "../verdict/finding.js";
import { outcomeWord } from "./outcome-word.js";

/** "2 fail, 1 undetermined, 4 pass", worst first; outcomes that do not occur are left out. */
export function tally(outcomes: readonly Outcome[]): string {
  return OUTCOMES.map((outcome) => [outcome, outcomes.filter((other) => other === outcome).length] as const)
    .filter(([, count]) => count > 0)
    .map(([outcome, count]) => `${count} ${outcomeWord(outcome).toLowerCase()}`)
    .join(", ");
}
