import type { Outcome } from "../verdict/finding.js";

const WORDS: Readonly<Record<Outcome, string>> = {
  fail: "Fail",
  undetermined: "Undetermined",
  pass: "Pass",
  "not-applicable": "Not applicable",
};

export function outcomeWord(outcome: Outcome): string {
  return WORDS[outcome];
}
