import type { GradeMet, HeatGrades } from "./grades-met.js";
import { outcomeMark } from "./html/outcome-mark.js";
import { table } from "./html/table.js";
import { type Html, html } from "./html/template.js";
import { outcomeWord } from "./outcome-word.js";
import { plainPage } from "./reduction/plain-page.js";

/** Which grades each heat meets, as one page in the report's look: those that it meets or may meet first, the rest folded away. */
export function renderGradesMetHtml(heats: readonly HeatGrades[]): string {
  return plainPage(
    "Grades that these heats meet",
    html`<p>Each heat against every grade held here, nearest first; grades of which no limit is met are left out.
Meeting the limits of a grade does not certify the metal as that grade: that is for the manufacturer.</p>
${heats.length === 0 && html`<p>The report has no heats.</p>`}
${heats.map(heatSection)}`,
  );
}

function heatSection({ heat, grades }: HeatGrades): Html {
  const near = grades.filter(({ outcome }) => outcome !== "fail");
  const missed = grades.filter(({ outcome }) => outcome === "fail");
  const met = near.filter(({ outcome }) => outcome === "pass").length;
  return html`<section><h2>Heat ${heat}</h2>
<p>${met} ${outcomeWord("pass").toLowerCase()}, ${near.length - met} ${outcomeWord("undetermined").toLowerCase()}, ${missed.length} missed.</p>
${near.length > 0 && gradeTable(`Grades that heat ${heat} meets or may meet`, near)}
${
  missed.length > 0 &&
  html`<details><summary>Grades that heat ${heat} misses (${missed.length})</summary>
${gradeTable(`Grades that heat ${heat} misses`, missed)}</details>`
}</section>
`;
}

function gradeTable(caption: string, grades: readonly GradeMet[]): Html {
  const columns = [
    { heading: "Grade", cell: ({ name }: GradeMet) => name, names: true, width: 18 },
    { heading: "Standard", cell: ({ standard, edition }: GradeMet) => `${standard}, ${edition}`, width: 24 },
    { heading: "Outcome", cell: ({ outcome }: GradeMet) => outcomeMark(outcome), width: 14 },
    { heading: "Met", cell: ({ met }: GradeMet) => met, numeric: true, width: 6 },
    { heading: "Missed", cell: ({ missed }: GradeMet) => missed, numeric: true, width: 6 },
    { heading: "Open", cell: ({ open }: GradeMet) => open, numeric: true, width: 6 },
    {
      heading: "Why",
      cell: ({ reasons }: GradeMet) => why(reasons),
    },
  ];
  return table(caption, columns, grades);
}

/** What is not reported leaves most grades open by a dozen limits; the first ones tell it, the JSON has them all. */
function why(reasons: GradeMet["reasons"]): Html {
  const more = reasons.length - REASONS_SHOWN;
  return html`${reasons.slice(0, REASONS_SHOWN).map(({ message }, at) => html`${at > 0 && html`<br>`}${message}`)}${
    more > 0 && html`<br>and ${more} more`
  }`;
}

const REASONS_SHOWN = 3;
