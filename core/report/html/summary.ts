import type { Outcome } from "../../verdict/finding.js";
import { correctionsText } from "../corrections-text.js";
import { outcomeWord } from "../outcome-word.js";
import type { Report, ReportHeat } from "../report.js";
import { tally } from "../tally.js";
import { outcomeMark, outcomeSymbol } from "./outcome-mark.js";
import { type Column, table } from "./table.js";
import { type Html, html } from "./template.js";
import { worstFirst } from "./worst-first.js";

/** The verdict, before anything else, and with several heats one line for each. */
export function summary(report: Report, subject: string): Html {
  const { verdict, heats } = report;
  return html`
<div class="verdict ${verdict}">${outcomeSymbol(verdict)}
<div><h1>${outcomeWord(verdict)}</h1>
<p class="meaning">${meaning(verdict, heats)}</p></div></div>
<dl class="facts">
<div><dt>${report.requirement ? "Requirement" : "Documents"}</dt><dd>${subject}</dd></div>
<div><dt>${heats.length === 1 ? "Heat" : "Heats"}</dt><dd>${heatNames(heats)}</dd></div>
<div><dt>Held to</dt><dd>${heldTo(report)}</dd></div>
${report.corrections && html`<div><dt>Corrected</dt><dd>${correctionsText(report.corrections)}</dd></div>\n`}</dl>
${heats.length > 1 && heatOverview(heats)}`;
}

function meaning(verdict: Outcome, heats: readonly ReportHeat[]): string {
  if (heats.length < 2) return SENTENCES[verdict];
  return `${SENTENCES[verdict]} ${heats.length} heats: ${tally(heats.map((heat) => heat.verdict))}.`;
}

const SENTENCES: Readonly<Record<Outcome, string>> = {
  fail: "At least one limit is violated. Do not release the material as it stands.",
  undetermined:
    "Nothing is known to be violated, but not everything could be decided. Not released until it is cleared up.",
  pass: "Everything that was asked for was reported and is within its limits.",
  "not-applicable": "Nothing that was asked for applies to this material.",
};

function heatNames(heats: readonly ReportHeat[]): string {
  return heats.length === 0 ? "none found" : heats.map(({ heat }) => heat).join(", ");
}

function heldTo(report: Report): string {
  const grades = report.heats.flatMap(({ grades }) => grades.map((grade) => `${grade.standard} ${grade.name}`));
  const names = [...new Set(grades)];
  if (report.requirement) names.push("the requirement's own limits");
  return names.length === 0 ? "no grade" : names.join("; ");
}

const OVERVIEW: readonly Column<readonly [ReportHeat, number]>[] = [
  { heading: "Heat", names: true, cell: ([heat, number]) => html`<a href="#heat-${number}">${heat.heat}</a>` },
  { heading: "Verdict", cell: ([heat]) => outcomeMark(heat.verdict) },
  ...(["fail", "undetermined", "pass"] as const).map((outcome) => ({
    heading: { fail: "Failed", undetermined: "Undetermined", pass: "Passed" }[outcome],
    numeric: true,
    cell: ([heat]: readonly [ReportHeat, number]) =>
      heat.findings.filter((finding) => finding.outcome === outcome).length,
  })),
];

function heatOverview(heats: readonly ReportHeat[]): Html {
  return table("Verdict of each heat, with the number of findings", OVERVIEW, worstFirst(heats));
}
