import { appendix } from "./html/appendix.js";
import { heatDetails, heatSection } from "./html/heat-section.js";
import { pictureFinder } from "./html/spots.js";
import { style } from "./html/style.js";
import { summary } from "./html/summary.js";
import { html, htmlText, trustedMarkup } from "./html/template.js";
import { unreadDocuments } from "./html/unread-documents.js";
import { worstFirst } from "./html/worst-first.js";
import { outcomeWord } from "./outcome-word.js";
import type { Report } from "./report.js";
import type { SpotPicture } from "./spot-picture.js";

/**
 * The report as one page for receiving inspection: verdict, what failed, what is open and why, then everything.
 * It needs no script and loads nothing. `digest` is the SHA-256 of the JSON report, printed at the foot of every page;
 * `pictures` show what stands in the documents where values were read.
 */
export function renderHtml(report: Report, digest?: string, pictures: readonly SpotPicture[] = []): string {
  const find = pictureFinder(pictures);
  const subject = report.requirement?.name ?? report.documents.map(({ name }) => name).join(", ");
  const page = html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light">
<title>${outcomeWord(report.verdict)}: ${subject}</title>
<style>${trustedMarkup(style(digest))}</style>
</head>
<body>
<header>${summary(report, subject)}</header>
<main>
${unreadDocuments(report)}
${worstFirst(report.heats).map(([heat, number]) => heatSection(heat, number, report, find))}
${report.heats.map((heat, index) => heatDetails(heat, index + 1, report, find))}
${appendix(report, digest, find)}
</main>
</body>
</html>
`;
  return htmlText(page);
}
