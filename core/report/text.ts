import { DELIVERY_CONDITION, type Finding, type Outcome } from "../verdict/finding.js";
import { ADVICE } from "./advice.js";
import { correctionsText } from "./corrections-text.js";
import { heatTitle } from "./heat-title.js";
import { sourceText } from "./limit-text.js";
import { outcomeWord } from "./outcome-word.js";
import { placesText } from "./place-text.js";
import { onOneLine } from "./printable.js";
import type { Report, ReportHeat } from "./report.js";
import { tally } from "./tally.js";
import { tellAbsent } from "./text/absent.js";
import { doubtLines } from "./text/doubts.js";
import { unheldText } from "./unheld.js";

/** The report for a terminal or a log: one line per heat, and below it only what failed or stayed open. */
export function renderText(report: Report, { colour = false }: { readonly colour?: boolean } = {}): string {
  const paint = colour ? painted : plain;
  const lines = [
    ...report.heats.flatMap((heat) => heatLines(heat, report, paint)),
    ...doubtLines(report),
    ...(report.corrections ? [onOneLine(`Corrected: ${correctionsText(report.corrections)}`)] : []),
    ...report.cautions.map((caution) => `Caution: ${onOneLine(caution)}`),
    verdictLine(report, paint),
  ];
  return `${lines.join("\n")}\n`;
}

type Paint = (outcome: Outcome, text: string) => string;

const SIGNS: Readonly<Record<Outcome, string>> = { fail: "x", undetermined: "?", pass: "+", "not-applicable": "-" };
const SGR: Readonly<Record<Outcome, string>> = { fail: "31", undetermined: "33", pass: "32", "not-applicable": "2" };

const plain: Paint = (_, text) => text;
const painted: Paint = (outcome, text) => `\u001b[1;${SGR[outcome]}m${text}\u001b[0m`;

function mark(outcome: Outcome, paint: Paint): string {
  return paint(outcome, `${SIGNS[outcome]} ${outcomeWord(outcome).toUpperCase()}`);
}

function heatLines(heat: ReportHeat, report: Report, paint: Paint): readonly string[] {
  const grades = heat.grades.map(({ standard, name }) => `${standard} ${name}`).join(", ");
  const counts = tally(heat.findings.map(({ outcome }) => outcome)) || "nothing judged";
  const heldTo = grades === "" ? "" : `, held to ${grades}`;
  const ofOutcome = (outcome: Outcome) => heat.findings.filter((finding) => finding.outcome === outcome);
  const open = ofOutcome("undetermined");
  const absent = tellAbsent(heat);
  const unheld = unheldText(heat);
  return [
    `${mark(heat.verdict, paint)}  ${onOneLine(heatTitle(heat.heat))}: ${counts}${onOneLine(heldTo)}`,
    ...ofOutcome("fail").flatMap((finding) => findingLines(finding, heat, report)),
    ...open.filter((finding) => !absent.told.has(finding)).flatMap((finding) => findingLines(finding, heat, report)),
    ...absent.lines.map((line) => `    ${SIGNS.undetermined} ${onOneLine(line)}`),
    ...ofOutcome("not-applicable")
      .filter(({ quantity }) => quantity === DELIVERY_CONDITION)
      .map(({ message }) => `    ${SIGNS["not-applicable"]} ${onOneLine(message)}`),
    ...(unheld === "" ? [] : [`    ${SIGNS["not-applicable"]} ${onOneLine(`Read, but held to no limit: ${unheld}.`)}`]),
    ...adviceLines(open),
  ];
}

function findingLines(finding: Finding, heat: ReportHeat, report: Report): readonly string[] {
  const readings = heat.readings.filter(({ id }) => finding.readings.includes(id));
  const printed = readings.map((reading) => `"${reading.printed}"`).join(", ");
  const places = placesText(
    readings.map(({ evidence }) => evidence),
    report,
  );
  const read = readings.length === 0 ? "" : `; read ${printed} in ${places}`;
  return [
    `    ${SIGNS[finding.outcome]} ${onOneLine(finding.message)}`,
    `        ${onOneLine(`${sourceText(finding)}; ${finding.source.known}${read}`)}`,
  ];
}

/** What to do about each reason, once a heat. */
function adviceLines(open: readonly Finding[]): readonly string[] {
  const reasons = new Set(open.flatMap(({ reason }) => reason ?? []));
  return [...reasons].map((reason) => `    To do (${reason}): ${ADVICE[reason].todo}`);
}

function verdictLine(report: Report, paint: Paint): string {
  const count = report.heats.length;
  const heats = tally(report.heats.map(({ verdict }) => verdict));
  const counted = count === 0 ? "no heat found" : `${count} ${count === 1 ? "heat" : "heats"} (${heats})`;
  const requirement = report.requirement ? ` against ${onOneLine(report.requirement.name)}` : "";
  return `Verdict: ${mark(report.verdict, paint)}, ${counted}${requirement}`;
}
