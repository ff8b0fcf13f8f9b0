import { groupFindings } from "../finding-groups.js";
import { heatTitle } from "../heat-title.js";
import type { Report, ReportHeat } from "../report.js";
import { tally } from "../tally.js";
import { unheldText } from "../unheld.js";
import { failedList, openList } from "./finding-lists.js";
import { findingTable } from "./finding-table.js";
import { heatPictures } from "./heat-pictures.js";
import { information } from "./information.js";
import { outcomeMark } from "./outcome-mark.js";
import { readingTable } from "./reading-table.js";
import { type FindPicture, spotsToCompare } from "./spots.js";
import { type Html, html } from "./template.js";

/** What a person must know of one heat before anything else: what failed and what is open. */
export function heatSection(heat: ReportHeat, number: number, report: Report, find: FindPicture): Html {
  return html`<section class="heat" id="heat-${number}" aria-labelledby="heat-${number}-title">
<h2 id="heat-${number}-title">Heat ${heat.heat} ${outcomeMark(heat.verdict)}</h2>
${heatFacts(heat)}
${failedList(heat, report)}
${openList(heat, report)}
${spotsToCompare(heat, number, report, find)}
<p class="from">${findingsSentence(heat)} <a href="#heat-${number}-all">All findings and readings of ${heatTitle(heat.heat)}</a></p>
</section>
`;
}

/** Every finding and every reading of one heat. */
export function heatDetails(heat: ReportHeat, number: number, report: Report, find: FindPicture): Html {
  const groups = groupFindings(heat);
  return html`<section class="details" id="heat-${number}-all" aria-labelledby="heat-${number}-all-title">
<h2 id="heat-${number}-all-title">Heat ${heat.heat}: all findings and readings</h2>
${heatPictures(heat, number)}
${groups.length === 0 && html`<p>No limit was held against this heat.</p>`}
${groups.map((group) => findingTable(group, heat, number, report))}
${readingTable(heat, number, report, find)}
${information(heat)}
</section>
`;
}

function findingsSentence({ findings }: ReportHeat): string {
  if (findings.length === 0) return "No limit was held against this heat.";
  const unverified = findings.filter((finding) => finding.outcome === "pass" && !finding.source.verified).length;
  const marked = unverified === 0 ? "" : `; ${unverified} passed by a limit that is not verified`;
  return `${findings.length} findings: ${tally(findings.map(({ outcome }) => outcome))}${marked}.`;
}

function heatFacts(heat: ReportHeat): Html | false {
  const product = [heat.product?.form, heat.product?.thickness, heat.product?.condition].filter(Boolean).join(", ");
  const unheld = unheldText(heat);
  if (heat.grades.length === 0 && product === "" && unheld === "") return false;
  return html`<dl class="facts">
${heat.grades.map(
  (grade) => html`<div><dt>Held to</dt><dd>${gradeText(grade)}</dd></div>\n`,
)}${product !== "" && html`<div><dt>Product</dt><dd>${product}</dd></div>\n`}${
  unheld !== "" && html`<div><dt>Not judged</dt><dd>${unheld}: read, but held to no limit</dd></div>\n`
}</dl>
`;
}

/** Some editions are named by what is known of them: "edition not named by the sources". */
function gradeText({ standard, name, edition, chosen }: ReportHeat["grades"][number]): string {
  return `${standard} ${name}, ${/edition/.test(edition) ? edition : `edition ${edition}`} (${chosen})`;
}
