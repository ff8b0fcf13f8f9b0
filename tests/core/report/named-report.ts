import type { Report } from "../../../core/report/report.js";
import { exampleReport } from "./example-report.js";

/** The example with `name` wherever a document's own words can stand. */
export function namedReport(name: string): Report {
  const heats = exampleReport.heats.map((heat) => ({
    ...heat,
    heat: name,
    readings: heat.readings.map((reading) => ({ ...reading, printed: name, test: name, notes: [name] })),
    findings: heat.findings.map((finding) => ({ ...finding, message: `Heat ${name} is not well.`, notes: [name] })),
  }));
  const documents = exampleReport.documents.map((document) => ({
    ...document,
    name,
    issuer: name,
    number: name,
    order: name,
    doubts: document.doubts.map((doubt) => ({ ...doubt, heat: name, message: `Under Si stands ${name}.` })),
  }));
  return { ...exampleReport, documents, heats, requirement: { ...exampleReport.requirement!, name } };
}
