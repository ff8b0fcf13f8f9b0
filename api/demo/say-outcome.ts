import { pathToFileURL } from "node:url";
import { styleText } from "node:util";
import type { HeatSummary, SubmissionBody } from "../responses/submission-body.js";
import type { Outcome } from "./hand-in.js";
import type { Expected, Sample } from "./samples.js";

const SIGNS: Readonly<Record<string, readonly [sign: string, style: "red" | "yellow" | "green" | "gray"]>> = {
  fail: ["✘", "red"],
  undetermined: ["?", "yellow"],
  pass: ["✔", "green"],
  "not-applicable": ["–", "gray"],
};

/** A submission for people: the verdict, then per heat what failed or stayed open and why, then where the report is. */
export function sayOutcome(sample: Sample, { submission, milliseconds }: Outcome, reportPath: string): string {
  const lines = [
    "",
    `${marked(submission.verdict ?? "")}  ${styleText("bold", sample.name)}  ${styleText("gray", `${Math.round(milliseconds)} ms, webhook signature verified`)}`,
    ...(submission.heats ?? []).flatMap(sayHeat),
    // Where no heat was found, what the reader says of the documents is the only explanation.
    ...(submission.heats?.length ? [] : submission.documents.flatMap(sayDoubts)),
    `   report: ${pathToFileURL(reportPath).href}`,
  ];
  const differences = differencesFrom(sample.expected, submission.verdict, submission.heats ?? []);
  return [...lines, ...differences.map((difference) => styleText("red", `   NOT AS EXPECTED: ${difference}`))].join(
    "\n",
  );
}

/** What is not as the sample's expected.json says. */
export function differencesFrom(
  expected: Expected,
  verdict: string | undefined,
  heats: readonly HeatSummary[],
): string[] {
  const differences = verdict === expected.verdict ? [] : [`verdict ${verdict} instead of ${expected.verdict}`];
  for (const { heat, verdict } of heats) {
    const wanted = expected.heats[heat]?.verdict ?? "absent";
    if (verdict !== wanted) differences.push(`heat ${heat} ${verdict} instead of ${wanted}`);
  }
  const found = heats.map(({ heat }) => heat);
  for (const heat of Object.keys(expected.heats))
    if (!found.includes(heat)) differences.push(`heat ${heat} is missing`);
  return differences;
}

function sayDoubts({ name, doubts = [] }: SubmissionBody["documents"][number]): string[] {
  return doubts.map(({ message }) => `   ${name}: ${message}`);
}

function sayHeat({ heat, verdict, findings, reasons }: HeatSummary): string[] {
  const passed = `${findings.pass ?? 0} passed`;
  return [
    `   heat ${heat}: ${marked(verdict)}, ${passed}`,
    ...reasons.map(({ outcome, message }) => `      ${SIGNS[outcome]?.[0] ?? ""} ${message}`),
  ];
}

function marked(verdict: string): string {
  const [sign, style] = SIGNS[verdict] ?? ["", "gray"];
  return styleText(style, `${sign} ${verdict}`);
}
