import { outcomeMark } from "../../core/report/html/outcome-mark.js";
import { type Html, html } from "../../core/report/html/template.js";
import type { SubmissionRecord } from "../../worker/store/records.js";
import type { StoredRequirement } from "../../worker/store/requirements.js";
import type { UploadLimits } from "../config.js";
import { layout } from "./layout.js";

export interface HandInPage {
  readonly requirements: readonly StoredRequirement[];
  readonly recent: readonly SubmissionRecord[];
  readonly maySubmit: boolean;
  readonly limits: UploadLimits;
}

/** The page that a receiving inspector starts from: hand documents in above, see what came of the last ones below. */
export function handInPage({ requirements, recent, maySubmit, limits }: HandInPage): string {
  const body = html`${maySubmit ? form(requirements, limits) : html`<p>This key may look and not hand in.</p>`}
<h2>Handed in last</h2>
${recent.length === 0 ? html`<p>Nothing yet.</p>` : recentTable(recent)}`;
  return layout("Hand in documents", body, { isSignedIn: true });
}

function form(requirements: readonly StoredRequirement[], limits: UploadLimits): Html {
  return html`<form method="post" action="/submissions" enctype="multipart/form-data" data-upload="/v1/submissions">
<div class="alert" role="alert" tabindex="-1" hidden></div>
<div class="field drop">
<label for="document">Certificates and test records</label>
<input id="document" name="document" type="file" multiple required data-most="${limits.documentBytes}" aria-describedby="document-hint">
<p class="hint" id="document-hint">PDF, scan or photograph (PNG, JPEG, TIFF), workbook, CSV, JSON or XML. Several that belong together are judged together. They can be dropped here. At most ${limits.documents} at once, ${megabytes(limits.documentBytes)} each and ${megabytes(limits.submissionBytes)} together.</p>
<p data-chosen role="status"></p>
</div>
<div class="field">
<label for="requirement">Requirement</label>
<select id="requirement" name="requirement">
<option value="">None: hold each certificate to the grades it claims</option>
${requirements.map(
  ({ slug, version, requirement }) =>
    html`<option value="${slug}@${version}">${requirement.name} (version ${version})</option>`,
)}
</select>
</div>
<div class="row">
<div class="field"><label for="order">Order</label><input id="order" name="tag.order" maxlength="200"></div>
<div class="field"><label for="item">Item</label><input id="item" name="tag.item" maxlength="200"></div>
<div class="field"><label for="supplier">Supplier</label><input id="supplier" name="tag.supplier" maxlength="200"></div>
</div>
<progress hidden aria-label="Sent" value="0" max="1"></progress>
<button>Hand in</button>
</form>`;
}

/** Rounded down: what is told to fit must fit. */
function megabytes(bytes: number): string {
  return bytes < 1e6 ? `${Math.floor(bytes / 1e3)} kB` : `${Math.floor(bytes / 1e5) / 10} MB`;
}

function recentTable(recent: readonly SubmissionRecord[]): Html {
  return html`<table>
<thead><tr><th scope="col">Documents</th><th scope="col">Verdict</th><th scope="col">Order</th><th scope="col">Handed in</th></tr></thead>
<tbody>
${recent.map(
  (record) => html`<tr>
<td><a href="/submissions/${record.id}">${record.documents.map(({ name }) => name).join(", ")}</a></td>
<td>${stateMark(record)}</td>
<td>${record.tags.order ?? ""}</td>
<td><time datetime="${record.createdAt.toISOString()}">${record.createdAt.toISOString().slice(0, 16).replace("T", " ")} UTC</time></td>
</tr>
`,
)}</tbody>
</table>`;
}

function stateMark({ state, verdict }: SubmissionRecord): Html {
  if (verdict) return outcomeMark(verdict);
  return html`${state === "failed" ? "No report" : "In progress"}`;
}
