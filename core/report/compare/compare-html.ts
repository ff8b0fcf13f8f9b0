import { table } from "../html/table.js";
import { type Html, html, trustedMarkup } from "../html/template.js";
import { drawPropertyAgainstTemperature } from "../pictures/property-temperature.js";
import { plainPage } from "../reduction/plain-page.js";
import { degrees, serviceWords } from "./compare-text.js";
import type { ComparedProperty, ComparedRow, Comparison } from "./comparison.js";
import { requiredWords } from "./winner.js";

/** The comparison as one page: what wins on what in words, then each property with its picture and the table beside it. */
export function renderComparisonHtml(comparison: Comparison): string {
  const { serviceC, requirement, properties } = comparison;
  const materials = [...new Set(properties.flatMap(({ rows }) => rows.map(({ material }) => material.name)))];
  return plainPage(
    `Comparison at ${degrees(serviceC)}`,
    html`<p>Values at the service temperature ${degrees(serviceC)}${requirement !== null && ` against the minimums of ${requirement}`}.
Between tested temperatures values are interpolated; beyond them nothing is claimed.</p>
<h2>In words</h2>
<ul>${properties.map(({ winner }) => html`<li>${winner.message}</li>\n`)}</ul>
${properties.length === 0 && html`<p>No property was found that could be compared.</p>`}
${properties.map((property, index) => propertySection(property, serviceC, materials, `property-${index}`))}`,
  );
}

function propertySection(property: ComparedProperty, serviceC: number, materials: readonly string[], id: string): Html {
  const { title, unit, rows } = property;
  const isAsked = rows.some((row) => requiredWords([row], unit) !== "");
  const againstRequired = [
    {
      heading: "Required",
      cell: (row: ComparedRow) => requiredWords([row], unit),
      numeric: true,
      width: 12,
    },
    {
      heading: "Meets it",
      cell: ({ meets }: ComparedRow) => (meets === undefined ? "" : meets ? "yes" : html`<strong>no</strong>`),
      width: 10,
    },
  ];
  const columns = [
    { heading: "Material", cell: ({ material }: ComparedRow) => material.name, names: true, width: 30 },
    { heading: `At ${degrees(serviceC)}`, cell: (row: ComparedRow) => serviceWords(row, unit), width: 34 },
    ...(isAsked ? againstRequired : []),
    ...(rows.some(({ notes }) => notes.length > 0)
      ? [{ heading: "Notes", cell: ({ notes }: ComparedRow) => notes.join("; ") }]
      : []),
  ];
  return html`<section><h2>${title}</h2>
${trustedMarkup(pictureOf(property, serviceC, materials, id))}
${table(`${title} at ${degrees(serviceC)}`, columns, rows)}</section>
`;
}

function pictureOf(
  { title, unit, rows }: ComparedProperty,
  serviceC: number,
  materials: readonly string[],
  id: string,
): string {
  const row = rows.find(({ required, requiredSingle }) => required !== undefined || requiredSingle !== undefined);
  const required = row?.required ?? row?.requiredSingle;
  return drawPropertyAgainstTemperature({
    id,
    property: title,
    unit,
    serviceC,
    series: rows.map(({ material, points }) => ({
      name: material.name,
      look: materials.indexOf(material.name),
      points,
    })),
    ...(required !== undefined && { required: Number(required) }),
  });
}
