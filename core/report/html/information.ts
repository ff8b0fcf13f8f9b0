import { heatTitle } from "../heat-title.js";
import type { ReportComputed, ReportHeat } from "../report.js";
import { type Column, table } from "./table.js";
import { type Html, html } from "./template.js";

/** Indices and hints: they judge nothing, and say so, but an engineer looks for them. */
export function information({ heat, computed = [], hints = [] }: ReportHeat): Html | false {
  if (computed.length === 0 && hints.length === 0) return false;
  return html`<h3>For information: nothing of this is part of the verdict</h3>
${
  hints.length > 0 &&
  html`<ul class="hints">
${hints.map(({ message, restsOn }) => html`<li>${message} <span class="from">${restsOn}</span></li>\n`)}</ul>
`
}${computed.length > 0 && table(html`Indices computed from the chemistry<span class="of-heat">, ${heatTitle(heat)}</span>`, COLUMNS, computed)}`;
}

const COLUMNS: readonly Column<ReportComputed>[] = [
  { heading: "Index", names: true, width: 20, cell: ({ name }) => name },
  { heading: "Value", width: 12, cell: ({ value, unit }) => withUnit(value, unit) },
  { heading: "Surely within", width: 14, cell: (computed) => range(computed) ?? "–" },
  {
    heading: "Computed as",
    width: 30,
    cell: ({ expression, source }) => html`${expression} <span class="from">${source}</span>`,
  },
  { heading: "Mind", width: 24, cell: (computed) => remarks(computed) || "–" },
];

function range({ low, high, unit }: ReportComputed): string | undefined {
  if (low === undefined && high === undefined) return undefined;
  if (low == null && high == null) return "not known";
  if (low == null) return `at most ${withUnit(high!, unit)}`;
  if (high == null) return `at least ${withUnit(low, unit)}`;
  return `${low} to ${withUnit(high, unit)}`;
}

function remarks({ notReported = [], cautions = [] }: ReportComputed): string {
  const missing = notReported.length > 0 ? [`Not reported: ${notReported.join(", ")}.`] : [];
  return [...missing, ...cautions].join(" ");
}

function withUnit(value: string, unit: string): string {
  return unit === "" || unit === "1" ? value : `${value} ${unit}`;
}
