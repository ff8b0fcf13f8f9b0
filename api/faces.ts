import { renderHtml } from "../core/report/html.js";
import { renderJunit } from "../core/report/junit.js";
import { renderSarif } from "../core/report/sarif.js";
import { renderText } from "../core/report/text.js";
import { renderXlsx } from "../worker/store/report-xlsx.js";
import type { Face } from "./deps.js";

/** The forms that a report is given in besides its own JSON. Names are those of the batch command. */
export const FACES: readonly Face[] = [
  { name: "html", mediaType: "text/html", isPictured: true, render: renderHtml },
  {
    name: "xlsx",
    mediaType: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    render: renderXlsx,
  },
  { name: "text", mediaType: "text/plain", render: (report) => renderText(report) },
  { name: "junit", mediaType: "application/xml", render: renderJunit },
  { name: "sarif", mediaType: "application/sarif+json", render: renderSarif },
];
