import { outcomeMark, outcomeSymbol } from "../../core/report/html/outcome-mark.js";
import { type Html, html } from "../../core/report/html/template.js";
import { outcomeWord } from "../../core/report/outcome-word.js";
import type { Report } from "../../core/report/report.js";
import type { SpotPicture } from "../../core/report/spot-picture.js";
import { unheldText } from "../../core/report/unheld.js";
import { OUTCOMES } from "../../core/verdict/finding.js";
import { ACTIONS, type Action, type Decision } from "../../worker/store/decisions.js";
import type { SubmissionRecord } from "../../worker/store/records.js";
import { LONGEST } from "../../worker/store/stated-texts.js";
import { type HeatSummary, submissionBody } from "../responses/submission-body.js";
import { doubtfulReadingsForm } from "./doubtful-readings.js";
import { layout } from "./layout.js";

export interface SubmissionPage {
  readonly record: SubmissionRecord;
  readonly report: Report | undefined;
  readonly pictures: readonly SpotPicture[];
  readonly decisions: readonly Decision[];
  readonly mayDecide: boolean;
}

/** What came of one submission: the verdict, then heat by heat what stands in its way, and what was decided about it. */
export function submissionPage(page: SubmissionPage): string {
  const { record, report } = page;
  if (record.failure) return layout("No report", failed(record), { isSignedIn: true });
  if (!report) return waiting(record);
  const { heats = [], links } = submissionBody(record, report);
  const readings = page.mayDecide && !record.correction && doubtfulReadingsForm(record.id, report, page.pictures);
  const sorted = OUTCOMES.flatMap((outcome) => heats.filter(({ verdict }) => verdict === outcome));
  const body = html`<p class="verdict ${report.verdict}">${outcomeMark(report.verdict)}</p>
<p>${heldTo(record)}</p>
${heats.length > 1 && overview(sorted)}
<ul class="links">
${readings && html`<li><a href="#readings">Readings to confirm</a></li>`}
<li><a href="${links.report}?format=html">Full report</a></li>
<li><a href="${links.report}?format=xlsx">Report as workbook</a></li>
<li><a href="${links.self}/grades">Grades that these heats meet</a></li>
<li><a href="/">Hand in more</a></li>
</ul>
${record.correction && html`<p>Readings confirmed or corrected by ${record.correction.corrections.by} on ${record.correction.corrections.date}; <a href="/submissions/${record.correction.of}">before that</a>.</p>`}
${sorted.map((heat) => heatSection(heat, page))}
${readings}
${doubts(report)}
${documents(record)}`;
  return layout(titleOf(record), body, { isSignedIn: true });
}

/** Nobody may take a pass against a certificate's own grades for one against the order's requirement. */
function heldTo({ requirement, tags }: SubmissionRecord): Html {
  const about = ["item", "supplier"].flatMap((name) => (tags[name] ? `${name} ${tags[name]}` : []));
  return html`${
    requirement
      ? html`Held to <strong>${requirement.name}</strong>.`
      : html`Held to the grades that the documents claim; <strong>no requirement was chosen</strong>.`
  }${about.length > 0 && ` ${about.join(", ")}.`}`;
}

/** What needs a person first, to be jumped to: a delivery may have dozens of heats. */
function overview(heats: readonly HeatSummary[]): Html {
  const counts = OUTCOMES.flatMap((outcome) => {
    const count = heats.filter(({ verdict }) => verdict === outcome).length;
    return count > 0 ? `${count} ${outcomeWord(outcome).toLowerCase()}` : [];
  });
  const open = heats.filter(({ verdict }) => verdict !== "pass").slice(0, NAMED_HEATS);
  return html`<p>${heats.length} heats: ${counts.join(", ")}.</p>
${
  open.length > 0 &&
  html`<nav aria-label="Heats that do not pass"><ul class="links">${open.map(
    ({ heat, verdict }) => html`<li><a href="#${idOf(heat)}">${outcomeSymbol(verdict)} ${heat}</a></li>`,
  )}</ul></nav>`
}`;
}

const NAMED_HEATS = 20;

/** The heat's name is from a document, so it is no good as an id; its characters' codes are. */
function idOf(heat: string): string {
  return `heat-${[...heat].map((character) => character.codePointAt(0)!.toString(36)).join("-")}`;
}

function titleOf({ tags, documents }: SubmissionRecord): string {
  const names = documents.map(({ name }) => name).join(", ");
  return tags.order ? `Order ${tags.order}: ${names}` : names;
}

function waiting(record: SubmissionRecord): string {
  const body = html`<p role="status" data-waiting="/v1/submissions/${record.id}">The documents are being read and judged. This page shows the result as soon as it is there.</p>
<progress aria-label="In progress"></progress>
${documents(record)}`;
  return layout(titleOf(record), body, {
    isSignedIn: true,
    head: html`<noscript><meta http-equiv="refresh" content="2"></noscript>`,
  });
}

function failed(record: SubmissionRecord): Html {
  return html`<div class="alert" role="alert"><p>${record.failure?.message}</p><p>This is no verdict on the metal.</p></div>
${documents(record)}`;
}

function heatSection({ heat, verdict, findings, reasons }: HeatSummary, page: SubmissionPage): Html {
  const decided = page.decisions.filter((decision) => decision.heat === heat);
  const reported = page.report?.heats.find((other) => other.heat === heat);
  const unheld = reported ? unheldText(reported) : "";
  return html`<section class="heat" id="${idOf(heat)}" aria-label="Heat ${heat}">
<h2>Heat ${heat} ${outcomeMark(verdict)}</h2>
<p>${findings.fail} failed, ${findings.undetermined} undetermined, ${findings.pass} passed.</p>
${
  reasons.length > 0 &&
  html`<ul class="reasons">${reasons.map(
    ({ outcome, message }) => html`<li>${outcomeSymbol(outcome)}<span>${message}</span></li>`,
  )}</ul>`
}
${unheld !== "" && html`<p>Read, but held to no limit: ${unheld}.</p>`}
${decided.length > 0 && html`<h3>Decided</h3><ul>${decided.map(decisionItem)}</ul>`}
${page.mayDecide && decisionForm(heat, page.record.id)}
</section>
`;
}

const ACTION_WORDS: Readonly<Record<Action, string>> = {
  accept: "Accepted",
  concession: "Accepted under concession",
  return: "Returned",
  retest: "To be tested again",
};

function decisionItem({ action, person, reason, reference, createdAt }: Decision): Html {
  const day = createdAt.toISOString().slice(0, 10);
  return html`<li><strong>${ACTION_WORDS[action]}</strong> by ${person} on ${day}${reference && html` (${reference})`}: ${reason}</li>`;
}

function decisionForm(heat: string, submission: string): Html {
  const id = idOf(heat);
  return html`<details><summary>Record a decision about heat ${heat}</summary>
<form method="post" action="/submissions/${submission}/decisions">
<input type="hidden" name="heat" value="${heat}">
<div class="row">
<div class="field"><label for="action-${id}">Decision</label><select id="action-${id}" name="action" required>
<option value="">Choose</option>
${ACTIONS.map((action) => html`<option value="${action}">${ACTION_WORDS[action]}</option>`)}
</select></div>
<div class="field"><label for="person-${id}">Decided by</label><input id="person-${id}" name="person" required maxlength="${LONGEST.person}" autocomplete="name"></div>
<div class="field"><label for="reference-${id}">Reference</label><input id="reference-${id}" name="reference" maxlength="${LONGEST.reference}"></div>
</div>
<div class="field"><label for="reason-${id}">Reason</label><textarea id="reason-${id}" name="reason" required maxlength="${LONGEST.reason}" rows="3"></textarea></div>
<button>Record decision</button>
</form></details>`;
}

function doubts(report: Report): Html | false {
  const all = report.documents.flatMap(({ name, doubts }) => doubts.map(({ message }) => `${name}: ${message}`));
  return (
    all.length > 0 &&
    html`<h2>What was noticed while reading</h2><ul>${all.map((doubt) => html`<li>${doubt}</li>`)}</ul>`
  );
}

function documents({ id, documents }: SubmissionRecord): Html {
  return html`<h2>Documents</h2><ul class="links">${documents.map(
    ({ name, sha256 }) => html`<li><a href="/v1/submissions/${id}/documents/${sha256}">${name}</a></li>`,
  )}</ul>`;
}
