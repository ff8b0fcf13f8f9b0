import type { Finding } from "../verdict/finding.js";
import { ADVICE } from "./advice.js";
import { heatTitle } from "./heat-title.js";
import { limitText, sourceText } from "./limit-text.js";
import { placeText } from "./place-text.js";
import { onOneLine, showUnprintable } from "./printable.js";
import type { Report, ReportHeat } from "./report.js";

interface TestCase {
  readonly name: string;
  readonly classname: string;
  /** Absent: passed. */
  readonly result?: {
    readonly element: "failure" | "error" | "skipped";
    readonly type?: string;
    readonly message: string;
  };
  readonly details?: string;
}

interface TestSuite {
  readonly name: string;
  readonly cases: readonly TestCase[];
}

/**
 * The report as JUnit XML, so that a build pipeline stops on a nonconforming heat: a violated limit is a failure, an
 * undetermined one an error (never green), one that does not apply is skipped. Times are 0: a report holds no clock.
 */
export function renderJunit(report: Report): string {
  const suites = report.heats.map((heat) => heatSuite(heat, report));
  if (report.heats.length === 0) suites.push(verdictSuite(report));
  const name = report.requirement?.name ?? "Heatgate";
  const body = suites.map(suiteXml).join("");
  const all = suites.flatMap(({ cases }) => cases);
  return `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="${xml(name)}" ${counts(all)} time="0">\n${body}</testsuites>\n`;
}

function heatSuite(heat: ReportHeat, report: Report): TestSuite {
  const cases = heat.findings.map((finding) => findingCase(finding, heat, report));
  const covered = heat.findings.some(({ outcome }) => outcome === heat.verdict);
  const name = onOneLine(heatTitle(heat.heat));
  return { name, cases: covered ? cases : [...cases, verdictCase(name, heat.verdict)] };
}

/** A submission without a heat, or a heat without findings, must not look like an empty success. */
function verdictSuite(report: Report): TestSuite {
  return { name: "submission", cases: [verdictCase("submission", report.verdict)] };
}

function verdictCase(classname: string, verdict: Report["verdict"]): TestCase {
  if (verdict === "pass") return { name: "verdict", classname };
  const element = ELEMENTS[verdict];
  return { name: "verdict", classname, result: { element, type: verdict, message: `The verdict is ${verdict}.` } };
}

const ELEMENTS = { fail: "failure", undetermined: "error", "not-applicable": "skipped" } as const;

function findingCase(finding: Finding, heat: ReportHeat, report: Report): TestCase {
  const { outcome, quantity, zone, reason, message } = finding;
  const what = [quantity, zone, limitText(finding)].filter(Boolean).join(" ");
  const test = { name: onOneLine(`${what} (${sourceText(finding)})`), classname: onOneLine(heatTitle(heat.heat)) };
  if (outcome === "pass") return test;
  if (outcome === "not-applicable") return { ...test, result: { element: "skipped", message } };
  return {
    ...test,
    result: { element: ELEMENTS[outcome], type: reason ?? "limit violated", message },
    details: details(finding, heat, report),
  };
}

function details(finding: Finding, heat: ReportHeat, report: Report): string {
  const readings = heat.readings.filter(({ id }) => finding.readings.includes(id));
  return [
    finding.message,
    `Held to: ${sourceText(finding)}; ${finding.source.known}`,
    ...(finding.limit ? [`Limit: ${finding.limit.id}`] : []),
    ...readings.map(({ printed, evidence }) => `Read: "${printed}" in ${placeText(evidence, report)}`),
    ...(finding.notes ?? []),
    ...(finding.reason ? [`To do: ${ADVICE[finding.reason].todo}`] : []),
  ].join("\n");
}

function suiteXml({ name, cases }: TestSuite): string {
  return `<testsuite name="${xml(name)}" ${counts(cases)} time="0">\n${cases.map(caseXml).join("")}</testsuite>\n`;
}

function caseXml({ name, classname, result, details }: TestCase): string {
  const start = `<testcase name="${xml(name)}" classname="${xml(classname)}" time="0"`;
  if (!result) return `${start}/>\n`;
  const type = result.type === undefined ? "" : ` type="${xml(result.type)}"`;
  const opening = `<${result.element}${type} message="${xml(result.message)}"`;
  const inner = details === undefined ? `${opening}/>` : `${opening}>${xmlText(details)}</${result.element}>`;
  return `${start}>${inner}</testcase>\n`;
}

function counts(cases: readonly TestCase[]): string {
  const count = (element: string) => cases.filter(({ result }) => result?.element === element).length;
  return `tests="${cases.length}" failures="${count("failure")}" errors="${count("error")}" skipped="${count("skipped")}"`;
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "\n": "&#10;",
  "\r": "&#13;",
  "\t": "&#9;",
};

/** Between tags line ends may stand as they are, which people read more easily. */
function xmlText(text: string): string {
  return xml(text).replaceAll("&#10;", "\n");
}

function xml(text: string): string {
  return showUnprintable(text).replace(/[&<>"\n\r\t]/g, (character) => ENTITIES[character]!);
}
