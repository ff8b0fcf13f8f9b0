import { showUnprintable } from "../printable.js";
import type { ComparedProperty, ComparedRow, Comparison } from "./comparison.js";
import { requiredWords } from "./winner.js";

/** The comparison for a terminal: a block for each property, the sentence that sums it up last. */
export function renderComparisonText(comparison: Comparison): string {
  const { serviceC, requirement, properties } = comparison;
  const against = requirement === null ? "" : `, minimums of ${requirement}`;
  const lines = [
    `At the service temperature ${degrees(serviceC)}${against}. Interpolated between tests, never extrapolated.`,
    ...properties.flatMap(propertyLines),
  ];
  if (properties.length === 0) lines.push("No property was found that could be compared.");
  return `${lines.map((line) => showUnprintable(line.replace(/[\r\n]+/g, " "))).join("\n")}\n`;
}

function propertyLines({ title, unit, rows, winner }: ComparedProperty): string[] {
  const widest = Math.max(...rows.map(({ material }) => material.name.length));
  return [
    "",
    `${title}, ${unit}`,
    ...rows.map(
      (row) => `    ${sign(row)} ${row.material.name.padEnd(widest)} ${serviceWords(row, unit)}${notesOf(row, unit)}`,
    ),
    `    ${winner.message}`,
  ];
}

function sign({ meets }: ComparedRow): string {
  return meets === undefined ? " " : meets ? "+" : "x";
}

function notesOf(row: ComparedRow, unit: string): string {
  const required = requiredWords([row], unit);
  const all = [...(required === "" ? [] : [`required ${required}`]), ...row.notes];
  return all.length === 0 ? "" : `  (${all.join("; ")})`;
}

/** What is known at the service temperature, in words. */
export function serviceWords({ atService }: ComparedRow, unit: string): string {
  switch (atService.kind) {
    case "tested":
      return `${show(atService.value)} ${unit}${atService.pieces > 1 ? `, mean of ${atService.pieces}, least ${show(atService.least)}` : ""}`;
    case "interpolated":
      return `${show(atService.value)} ${unit}, interpolated between ${atService.betweenC.map(degrees).join(" and ")}`;
    case "not-tested-there":
      return `not known: tested only ${atService.side}, nearest ${degrees(atService.nearestC)}`;
    case "not-tested":
      return "not tested";
  }
}

function show(value: number): string {
  return String(Number(value.toFixed(Math.abs(value) >= 100 ? 0 : 2)));
}

export function degrees(celsius: number): string {
  return `${String(celsius).replace("-", "−")} °C`;
}
