import type { Finding } from "../../verdict/finding.js";
import { type Html, html } from "./template.js";

/** How the limit is known; one that nobody has checked stands in a dashed box. */
export function known(finding: Finding): Html {
  return html`<span class="${finding.source.verified ? "from" : "unverified"}">${finding.source.known}</span>`;
}
