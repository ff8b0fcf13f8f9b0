import type { Report, ReportDocument } from "../report.js";
import { outcomeSymbol } from "./outcome-mark.js";
import { type Html, html } from "./template.js";

/** A document that could not be read may hold the very value that fails, so it stands with the verdict. */
export function unreadDocuments({ documents }: Report): Html | false {
  const unread = documents.filter(isUnread);
  if (unread.length === 0) return false;
  return html`<section aria-labelledby="unread-title">
<h2 id="unread-title">What could not be read</h2>
<ul class="reasons">
${unread.map(
  ({ name, doubts }) =>
    html`<li>${outcomeSymbol("undetermined")}<div><p><strong>${name}</strong></p>
${doubts.map(({ message }) => html`<p>${message}</p>\n`)}</div></li>
`,
)}</ul>
</section>
`;
}

/** `reader` is the name of what read the document; "none" where nothing could. */
export function isUnread({ reader }: ReportDocument): boolean {
  return reader === "none";
}
