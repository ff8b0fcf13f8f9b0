import type { Finding } from "../../verdict/finding.js";
import { ADVICE } from "../advice.js";
import { sourceText } from "../limit-text.js";
import { placesText } from "../place-text.js";
import type { Report, ReportHeat, ReportReading } from "../report.js";
import { known } from "./known.js";
import { outcomeSymbol } from "./outcome-mark.js";
import { type Html, html } from "./template.js";

export function failedList(heat: ReportHeat, report: Report): Html | false {
  const failed = heat.findings.filter(({ outcome }) => outcome === "fail");
  if (failed.length === 0) return false;
  return html`<h3>What failed</h3>
<ul class="reasons">
${failed.map((finding) => item(finding, heat, report, html`<strong>${finding.message}</strong>`))}</ul>
`;
}

/** Undetermined findings share a reason more often than not, so what to do is said once for each reason. */
export function openList(heat: ReportHeat, report: Report): Html | false {
  const open = heat.findings.filter(({ outcome }) => outcome === "undetermined");
  if (open.length === 0) return false;
  const reasons = [...new Set(open.map(({ reason }) => reason))];
  return html`<h3>What is undetermined</h3>
${reasons.map((reason) => {
  const findings = open.filter((finding) => finding.reason === reason);
  return html`${
    reason &&
    html`<p class="advice"><strong>${ADVICE[reason].because}.</strong> ${ADVICE[reason].todo}</p>
`
  }<ul class="reasons">
${findings.map((finding) => item(finding, heat, report, html`${finding.message}`))}</ul>
`;
})}`;
}

function item(finding: Finding, heat: ReportHeat, report: Report, sentence: Html): Html {
  const readings = heat.readings.filter(({ id }) => finding.readings.includes(id));
  return html`<li>${outcomeSymbol(finding.outcome)}<div><p>${sentence}</p>
<p class="from">${sourceText(finding)}; ${known(finding)}</p>
${
  readings.length > 0 &&
  html`<p class="from">Read: ${quoted(readings)} in ${placesText(
    readings.map(({ evidence }) => evidence),
    report,
  )}</p>\n`
}${finding.notes?.map((note) => html`<p class="from">${note}</p>\n`) ?? false}</div></li>
`;
}

function quoted(readings: readonly ReportReading[]): readonly Html[] {
  return readings.map(({ printed }, index) => html`${index > 0 && ", "}<q>${printed}</q>`);
}
