import { showUnprintable } from "../printable.js";
import type { HeatHistory, HistorySeries } from "./history.js";
import { SIGNAL_WORDS } from "./series-words.js";

/** The history for a terminal: the sentence that sums each series up, then its heats. */
export function renderHistoryText({ series, notes }: HeatHistory): string {
  const lines = [...series.flatMap(seriesLines), ...notes.map((note) => `Note: ${note}`)];
  if (series.length === 0) lines.unshift("No heat with a date and a value of C, Rp0.2 or KV was found.");
  return `${lines.map((line) => showUnprintable(line.replace(/[\r\n]+/g, " "))).join("\n")}\n`;
}

function seriesLines({ message, points, unit }: HistorySeries): string[] {
  const widest = Math.max(...points.map(({ heat }) => heat.length));
  return [
    message,
    ...points.map(
      ({ date, heat, value, readings, signal }) =>
        `    ${signal ? "!" : " "} ${date}  ${heat.padEnd(widest)}  ${value} ${unit}` +
        `${readings.length > 1 ? `, mean of ${readings.join(", ")}` : ""}${signal ? `  (${SIGNAL_WORDS[signal]})` : ""}`,
    ),
    "",
  ];
}
