import { table } from "../html/table.js";
import { type Html, html, trustedMarkup } from "../html/template.js";
import { drawControlChart } from "../pictures/control-chart.js";
import { plainPage } from "../reduction/plain-page.js";
import type { HeatHistory, HistoryPoint, HistorySeries } from "./history.js";
import { SIGNAL_WORDS, shown } from "./series-words.js";

/** The history as one page: in words first, then each series with its chart and the table beside it. */
export function renderHistoryHtml({ series, notes }: HeatHistory): string {
  return plainPage(
    "Heat history",
    html`<p>Each heat in the order of its date, between control limits that the heats set themselves (individuals and moving range).
A signal is a reason to ask the mill, not a reason to refuse a heat.</p>
<h2>In words</h2>
<ul>${series.map(({ message }) => html`<li>${message}</li>\n`)}</ul>
${series.length === 0 && html`<p>No heat with a date and a value of C, Rp0.2 or KV was found.</p>`}
${series.map((one, index) => seriesSection(one, `history-${index}`))}
${notes.length > 0 && html`<h2>Notes</h2><ul>${notes.map((note) => html`<li>${note}</li>`)}</ul>`}`,
  );
}

function seriesSection(series: HistorySeries, id: string): Html {
  const { title, unit, points, limits } = series;
  const columns = [
    { heading: "Heat", cell: ({ heat }: HistoryPoint) => heat, names: true, width: 18 },
    { heading: "Date", cell: ({ date }: HistoryPoint) => date, width: 14 },
    { heading: `Value, ${unit}`, cell: ({ value }: HistoryPoint) => value, numeric: true, width: 14 },
    {
      heading: "Readings",
      cell: ({ readings }: HistoryPoint) => (readings.length > 1 ? readings.join(", ") : ""),
      width: 22,
    },
    {
      heading: "Signal",
      cell: ({ signal }: HistoryPoint) => signal && html`<strong>${SIGNAL_WORDS[signal]}</strong>`,
    },
  ];
  return html`<section><h2>${title}</h2>
${trustedMarkup(chartOf(series, id))}
${
  limits &&
  html`<p class="from">Limits from the first ${limits.fromHeats} heats: mean ${shown(limits.mean)}, ${shown(limits.lower)} to
${shown(limits.upper)} ${unit}; mean range ${shown(limits.meanRange)}, at most ${shown(limits.upperRange)} ${unit}.</p>`
}
${table(title, columns, points)}</section>
`;
}

function chartOf({ title, unit, points, limits, required }: HistorySeries, id: string): string {
  return drawControlChart({
    id,
    subject: title,
    unit,
    heats: points.map(({ heat, value, signal }) => ({
      name: heat,
      value: Number(value),
      signal: signal !== undefined,
    })),
    ...(limits && { limits }),
    ...(required.min !== undefined && { min: Number(required.min) }),
    ...(required.max !== undefined && { max: Number(required.max) }),
  });
}
