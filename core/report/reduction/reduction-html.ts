import { table } from "../html/table.js";
import { type Html, html, trustedMarkup } from "../html/template.js";
import { plainPage } from "./plain-page.js";
import { pictureOfCurve, picturesOfImpact, picturesOfTransitions } from "./reduction-pictures.js";
import type {
  CurveReport,
  ImpactReport,
  ReductionInput,
  ReductionReport,
  ResultReport,
  TransitionReport,
} from "./reduction-report.js";
import { heatWords, statedFor } from "./reduction-words.js";

/** The reduction as one page: each curve with its picture, and beside it the table that says the same. */
export function renderReductionHtml(report: ReductionReport, input: ReductionInput): string {
  return plainPage(
    `Reduction of ${report.document.name}`,
    html`${report.curves.map((curve, index) => curveSection(curve, pictureOfCurve(input.curves[index]!, `curve-${index}`)))}
${report.impact.map((heat, index) => impactSection(heat, picturesOfImpact(heat, `impact-${index}`)))}
${transitionSections(report, input)}
${report.doubts.length > 0 && html`<h2>Doubts</h2><ul>${report.doubts.map((doubt) => html`<li>${doubt}</li>`)}</ul>`}
<p class="digest">${report.document.name}, sha256:${report.document.sha256}</p>`,
  );
}

function curveSection(curve: CurveReport, picture: string | undefined): Html {
  const who = [curve.heat && `heat ${curve.heat}`, curve.piece && `piece ${curve.piece}`].filter(Boolean).join(", ");
  const columns = [
    { heading: "Quantity", cell: ({ quantity }: ResultReport) => quantity, names: true, width: 14 },
    {
      heading: "Reported",
      cell: ({ reported, unit }: ResultReport) => `${reported} ${unit}`,
      numeric: true,
      width: 14,
    },
    { heading: "Unrounded", cell: ({ unrounded }: ResultReport) => unrounded, numeric: true, width: 14 },
    { heading: "Stated", cell: (row: ResultReport) => statedBeside(curve, row), numeric: true, width: 12 },
    {
      heading: "How",
      cell: ({ notes, doubted }: ResultReport) =>
        html`${doubted && html`<strong>doubted; </strong>`}${notes.join("; ")}`,
    },
  ];
  return html`<section><h2>Tensile curve ${curve.name}${who !== "" && `: ${who}`}</h2>
<p class="from">${curve.samples} samples, ${curve.place}. Reported values are rounded by ISO 6892-1, clause 22.</p>
${picture !== undefined && trustedMarkup(picture)}
${table("Results", columns, curve.results)}
${
  curve.trueAtStrength &&
  html`<p>True values at Rm: ${curve.trueAtStrength.stressMPa} MPa at a true strain of ${curve.trueAtStrength.strain}.</p>`
}
${curve.notes.length > 0 && html`<p class="from">${curve.notes.join("; ")}.</p>`}
${curve.doubts.length > 0 && html`<h3>Doubts</h3><ul>${curve.doubts.map(doubtItem)}</ul>`}
</section>
`;
}

function statedBeside(curve: CurveReport, { quantity }: ResultReport): string {
  const stated = statedFor(curve, quantity);
  return stated ? String(Number(stated.value.toPrecision(6))) : "";
}

function doubtItem({ message, affects }: CurveReport["doubts"][number]): Html {
  return html`<li>${message}${affects.length > 0 && html` <span class="from">Holds back: ${affects.join(", ")}.</span>`}</li>`;
}

function impactSection({ heat, pieces }: ImpactReport, pictures: readonly string[]): Html {
  type Piece = ImpactReport["pieces"][number];
  const columns = [
    { heading: "Zone", cell: ({ zone }: Piece) => zone, names: true, width: 12 },
    { heading: "Temperature", cell: ({ temperature }: Piece) => temperature, width: 13 },
    { heading: "Quantity", cell: ({ quantity }: Piece) => quantity, width: 10 },
    { heading: "Reported", cell: ({ reported, unit }: Piece) => `${reported} ${unit}`, numeric: true, width: 12 },
    { heading: "Unrounded", cell: ({ unrounded }: Piece) => unrounded, numeric: true, width: 12 },
    { heading: "How", cell: ({ notes, place }: Piece) => [...notes, place].join("; ") },
  ];
  return html`<section><h2>Impact, ${heatWords(heat)}</h2>
${pictures.map(trustedMarkup)}
${table("Pieces", columns, pieces)}</section>
`;
}

function transitionSections(report: ReductionReport, input: ReductionInput): Html {
  const pictures = input.impactHeats.flatMap((heat, index) => picturesOfTransitions(heat, `transition-${index}`));
  return html`${report.transitions.map((transition, index) => transitionSection(transition, pictures[index]))}`;
}

function transitionSection(
  { heat, zone, pieces, refusal, curve, results }: TransitionReport,
  picture: string | undefined,
): Html {
  type Row = TransitionReport["results"][number];
  const columns = [
    { heading: "Result", cell: ({ name }: Row) => name, names: true, width: 30 },
    { heading: "Value", cell: ({ text }: Row) => text },
  ];
  const shape =
    curve &&
    `Tanh curve: shelves ${curve.lowerJ} and ${curve.upperJ} J, middle ${curve.middleC} °C, half width ${curve.widthC} °C.`;
  return html`<section><h2>Transition, ${heatWords(heat)}, ${zone}</h2>
<p>${pieces} pieces. ${refusal ? `No curve: ${refusal.message}` : shape}</p>
${picture !== undefined && trustedMarkup(picture)}
${results.length > 0 && table("Temperatures and shelf", columns, results)}</section>
`;
}
