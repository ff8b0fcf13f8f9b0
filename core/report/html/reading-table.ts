import { heatTitle } from "../heat-title.js";
import { placeText } from "../place-text.js";
import type { Report, ReportHeat, ReportReading } from "../report.js";
import { ZONE_NAMES } from "../zone-names.js";
import { type FindPicture, spotInTable } from "./spots.js";
import { type Column, table } from "./table.js";
import { type Html, html } from "./template.js";

export function readingTable(heat: ReportHeat, heatNumber: number, report: Report, find: FindPicture): Html {
  if (heat.readings.length === 0) return html`<p>Nothing was read for this heat.</p>`;
  return table(html`Readings of ${heatTitle(heat.heat)}`, columns(heat, heatNumber, report, find), heat.readings);
}

function columns(
  heat: ReportHeat,
  heatNumber: number,
  report: Report,
  find: FindPicture,
): readonly Column<ReportReading>[] {
  return [
    {
      heading: "Quantity",
      width: 9,
      names: true,
      cell: ({ id, quantity }) => html`<span id="heat-${heatNumber}-reading-${id}">${quantity}</span>`,
    },
    { heading: "Printed", width: 10, cell: printed },
    {
      heading: "Value",
      width: 11,
      cell: ({ bound, value, unit }) => `${bound ?? ""}${value}${unit === "1" ? "" : ` ${unit}`}`,
    },
    { heading: "What it is", width: 37, cell: whatItIs },
    {
      heading: "Where it stood",
      width: 25,
      cell: (reading) =>
        html`${placeText(reading.evidence, report)}${spotInTable(reading, heat, heatNumber, report, find)}`,
    },
    { heading: "Certainty", width: 8, cell: certainty },
  ];
}

function printed({ printed, stated }: ReportReading): Html {
  return html`<q>${printed}</q>${stated !== undefined && ` ${stated}`}`;
}

function circumstances(reading: ReportReading): string {
  return [
    reading.analysis && `${reading.analysis} analysis`,
    reading.zone && ZONE_NAMES[reading.zone],
    reading.temperature && `at ${reading.temperature}`,
    reading.orientation,
    reading.specimen,
    reading.striker && `striker ${reading.striker} mm`,
    reading.statistic,
    reading.retest && "retest",
  ]
    .filter(Boolean)
    .join(", ");
}

function whatItIs(reading: ReportReading): Html {
  const notes = reading.notes?.map((note) => html` <span class="from">${note}</span>`);
  return html`${circumstances(reading) || (notes ? "" : "–")}${notes ?? false}`;
}

function certainty({ confidence }: ReportReading): string {
  return confidence >= 1 ? "as printed" : `${Math.floor(confidence * 100)} %`;
}
