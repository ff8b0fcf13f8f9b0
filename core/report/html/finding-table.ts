import type { Finding } from "../../verdict/finding.js";
import type { FindingGroup } from "../finding-groups.js";
import { heatTitle } from "../heat-title.js";
import { judgedText, limitText, marginText, sourceText } from "../limit-text.js";
import { placesText } from "../place-text.js";
import type { Report, ReportHeat } from "../report.js";
import { nameOf } from "../wording/names.js";
import { known } from "./known.js";
import { outcomeMark } from "./outcome-mark.js";
import { type Column, table } from "./table.js";
import { type Html, html } from "./template.js";

/** Everything about one group of limits: what was asked, what was found, by which clause, and where it was read. */
export function findingTable(group: FindingGroup, heat: ReportHeat, heatNumber: number, report: Report): Html {
  const measured = group.findings.some(({ limit }) => limit);
  const columns = measured ? limitColumns(heat, heatNumber, report) : plainColumns(heat, heatNumber, report);
  return table(html`${group.title}<span class="of-heat">, ${heatTitle(heat.heat)}</span>`, columns, group.findings);
}

function limitColumns(heat: ReportHeat, heatNumber: number, report: Report): readonly Column<Finding>[] {
  return [
    { heading: "Quantity", width: 13, names: true, cell: quantityName },
    { heading: "Outcome", width: 13, cell: ({ outcome }) => outcomeMark(outcome) },
    { heading: "Limit", width: 13, cell: limitText },
    { heading: "Judged value", width: 9, cell: (finding) => judgedText(finding) || "–" },
    { heading: "Margin", width: 10, cell: (finding) => marginText(finding) || "–" },
    { heading: "Clause, and how the limit is known", width: 21, cell: source },
    { heading: "Printed, and where", width: 21, cell: (finding) => places(finding, heat, heatNumber, report) },
  ];
}

function plainColumns(heat: ReportHeat, heatNumber: number, report: Report): readonly Column<Finding>[] {
  return [
    { heading: "Subject", width: 14, names: true, cell: ({ quantity }) => quantity },
    { heading: "Outcome", width: 13, cell: ({ outcome }) => outcomeMark(outcome) },
    { heading: "Finding", width: 33, cell: ({ message }) => message },
    { heading: "Source", width: 19, cell: source },
    { heading: "Printed, and where", width: 21, cell: (finding) => places(finding, heat, heatNumber, report) },
  ];
}

function source(finding: Finding): Html {
  const notes = finding.notes?.map((note) => html` <span class="from note">${note}</span>`) ?? false;
  return html`${sourceText(finding)} ${known(finding)}${notes}`;
}

function places(finding: Finding, heat: ReportHeat, heatNumber: number, report: Report): Html {
  const readings = heat.readings.filter(({ id }) => finding.readings.includes(id));
  if (readings.length === 0) return html`–`;
  const links = readings.map(
    ({ id, printed }, index) => html`${index > 0 && ", "}<a href="#heat-${heatNumber}-reading-${id}">${printed}</a>`,
  );
  const evidences = readings.map(({ evidence }) => evidence);
  return html`${links} <span class="from">${placesText(evidences, report)}</span>`;
}

/** "C Carbon", "Rm Tensile strength": the symbol that the certificate prints, and the word that a person says. */
function quantityName({ quantity }: Finding): Html {
  const words = nameOf(quantity)
    .split(/[ ,]+/)
    .filter((word) => !quantity.split(" ").includes(word))
    .join(" ");
  return html`${quantity}${words !== "" && html` <span class="from">${words}</span>`}`;
}
