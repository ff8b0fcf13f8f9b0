import type { Doubt } from "../../certificate/evidence.js";
import { heatTitle } from "../heat-title.js";
import { placeText } from "../place-text.js";
import type { Report, ReportDocument } from "../report.js";
import { type FindPicture, spotPicture } from "./spots.js";
import { type Column, table } from "./table.js";
import { type Html, html } from "./template.js";
import { isUnread } from "./unread-documents.js";

/** What the verdict rests on besides the readings: documents with their doubts, limits by file, and the cautions. */
export function appendix(report: Report, digest: string | undefined, find: FindPicture): Html {
  return html`<section aria-labelledby="documents-title">
<h2 id="documents-title">Documents</h2>
${table("Documents handed in", DOCUMENT_COLUMNS, report.documents)}
${doubtTable(report, find)}
</section>
<section aria-labelledby="basis-title">
<h2 id="basis-title">What was judged by</h2>
<dl class="facts">
${
  report.requirement &&
  html`<div><dt>Requirement</dt><dd>${report.requirement.name} <span class="digest">${report.requirement.digest}</span></dd></div>
`
}${digest !== undefined && html`<div><dt>This report (JSON)</dt><dd class="digest">sha256:${digest}</dd></div>\n`}</dl>
${report.library.length > 0 && table("Limits used, by file", LIBRARY_COLUMNS, report.library)}
</section>
${
  report.cautions.length > 0 &&
  html`<section class="cautions" aria-labelledby="cautions-title">
<h2 id="cautions-title">Cautions</h2>
<ul>${report.cautions.map((caution) => html`<li>${caution}</li>\n`)}</ul>
</section>
`
}`;
}

const DOCUMENT_COLUMNS: readonly Column<ReportDocument>[] = [
  { heading: "Document", names: true, cell: ({ name }) => name },
  { heading: "Says of itself", cell: (document) => identity(document) || "–" },
  { heading: "Read as", cell: readAs },
  { heading: "Notes", cell: ({ notes }) => notes?.join("; ") || "–" },
  { heading: "SHA-256", cell: ({ sha256 }) => html`<span class="digest">${sha256}</span>` },
];

function identity({ type, number, issuer, date, order }: ReportDocument): string {
  return [type && `type ${type}`, number && `no. ${number}`, issuer, date && `dated ${date}`, order && `order ${order}`]
    .filter(Boolean)
    .join(", ");
}

function readAs(document: ReportDocument): string {
  const { reader, pages } = document;
  if (isUnread(document)) return "not read";
  if (pages === undefined) return reader;
  const unit = reader === "xlsx" ? "sheet" : "page";
  return `${reader}, ${pages} ${pages === 1 ? unit : `${unit}s`}`;
}

type DocumentDoubt = Doubt & { readonly documentName: string };

function doubtTable(report: Report, find: FindPicture): Html {
  const doubts: DocumentDoubt[] = report.documents.flatMap(({ doubts, name }) =>
    doubts.map((doubt) => ({ ...doubt, documentName: name })),
  );
  if (doubts.length === 0) return html`<p>No doubts: everything that looked like a value was read and placed.</p>`;
  return table("Doubts: seen, but not read or not placed", doubtColumns(report, find), doubts);
}

function doubtColumns(report: Report, find: FindPicture): readonly Column<DocumentDoubt>[] {
  return [
    {
      heading: "Where",
      names: true,
      cell: ({ evidence, documentName }) =>
        evidence
          ? html`${placeText(evidence, report)}${spotPicture(evidence, "What stands there", report, find)}`
          : documentName,
    },
    {
      heading: "Concerns",
      cell: ({ heat, quantity }) => [heat && heatTitle(heat), quantity].filter(Boolean).join(", ") || "–",
    },
    { heading: "Doubt", cell: ({ message }) => message },
  ];
}

const LIBRARY_COLUMNS: readonly Column<Report["library"][number]>[] = [
  { heading: "File", names: true, cell: ({ id }) => id },
  { heading: "SHA-256", cell: ({ digest }) => html`<span class="digest">${digest}</span>` },
];
