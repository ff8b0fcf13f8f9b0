import type { Doubt } from "../certificate/evidence.js";
import type { Finding } from "../verdict/finding.js";
import { limitText, sourceText } from "./limit-text.js";
import { placeText } from "./place-text.js";
import type { Report, ReportHeat } from "./report.js";
import { artifacts, sarifLocation } from "./sarif/location.js";
import { sarifMessage } from "./sarif/message.js";
import { ruleIdOf, rulesOf } from "./sarif/rules.js";
import { uriComponent } from "./sarif/uri-component.js";

/** The report as SARIF 2.1.0, for tools that show findings beside the files they were found in. */
export function renderSarif(report: Report): string {
  return `${JSON.stringify(sarifLog(report), undefined, 2)}\n`;
}

export function sarifLog(report: Report) {
  const rules = rulesOf(report);
  const fingerprints = new Map<string, number>();
  const results = report.heats.flatMap((heat) =>
    heat.findings.map((finding) => result(finding, heat, report, rules, fingerprints)),
  );
  return {
    $schema: "https://json.schemastore.org/sarif-2.1.0.json",
    version: "2.1.0" as const,
    runs: [
      {
        tool: { driver: { name: "Heatgate", rules: rules.map(({ descriptor }) => descriptor) } },
        artifacts: artifacts(report),
        results,
        invocations: [
          {
            executionSuccessful: true,
            toolExecutionNotifications: report.documents.flatMap(({ doubts }, document) =>
              doubts.map((doubt) => notification(doubt, document, report)),
            ),
          },
        ],
        properties: {
          verdict: report.verdict,
          requirement: report.requirement,
          heats: report.heats.map(({ heat, verdict }) => ({ heat, verdict })),
          library: report.library,
          cautions: report.cautions,
        },
      },
    ],
  };
}

function result(
  finding: Finding,
  heat: ReportHeat,
  report: Report,
  rules: ReturnType<typeof rulesOf>,
  fingerprints: Map<string, number>,
) {
  const ruleId = ruleIdOf(finding);
  const readings = heat.readings.filter(({ id }) => finding.readings.includes(id));
  return {
    ruleId,
    ruleIndex: rules.findIndex(({ id }) => id === ruleId),
    kind: kindOf(finding),
    // SARIF 2.1.0, 3.27.10: a result of any kind but "fail" has level "none".
    level: finding.outcome === "fail" ? ("error" as const) : ("none" as const),
    message: sarifMessage(finding.message),
    locations: [
      {
        ...(readings[0] && sarifLocation(readings[0].evidence, report)),
        logicalLocations: [{ name: heat.heat, fullyQualifiedName: `heat/${heat.heat}`, kind: "heat" }],
      },
    ],
    relatedLocations: readings.slice(1).map(({ id, evidence, printed }) => ({
      id,
      ...sarifLocation(evidence, report),
      message: sarifMessage(`"${printed}" in ${placeText(evidence, report)}`),
    })),
    fingerprints: { "heatgate/v1": fingerprint(finding, heat, fingerprints) },
    properties: {
      heat: heat.heat,
      outcome: finding.outcome,
      ...(finding.reason && { reason: finding.reason }),
      ...(finding.zone && { zone: finding.zone }),
      ...(finding.judged !== undefined && { judged: finding.judged }),
      ...(finding.unit !== undefined && { unit: finding.unit }),
      ...(finding.limit && { limit: limitText(finding) }),
      ...(finding.margin !== undefined && { margin: finding.margin }),
      source: sourceText(finding),
      known: finding.source.known,
      verified: finding.source.verified,
    },
  };
}

/**
 * SARIF 2.1.0, 3.27.9: "open" lacks information, "review" needs a person to look. What a person can settle by looking at
 * the document or at the standard is for review; what has to be asked for or tested is open.
 */
function kindOf({ outcome, reason }: Finding): "fail" | "open" | "review" | "pass" | "notApplicable" {
  if (outcome === "not-applicable") return "notApplicable";
  if (outcome !== "undetermined") return outcome;
  return reason !== undefined && REVIEW_REASONS.has(reason) ? "review" : "open";
}

const REVIEW_REASONS: ReadonlySet<string> = new Set([
  "low-confidence",
  "contradiction",
  "reference-unverified",
  "unit-unknown",
  "grade-ambiguous",
  "document-unreadable",
]);

/** The same limit on the same heat stays the same result when its value is corrected. */
function fingerprint(finding: Finding, heat: ReportHeat, seen: Map<string, number>): string {
  const name = [heat.heat, ruleIdOf(finding), finding.zone ?? ""].map(uriComponent).join("/");
  const times = (seen.get(name) ?? 0) + 1;
  seen.set(name, times);
  return times === 1 ? name : `${name}/${times}`;
}

function notification(doubt: Doubt, document: number, report: Report) {
  const where = doubt.evidence
    ? sarifLocation(doubt.evidence, report)
    : { physicalLocation: { artifactLocation: { index: document } } };
  return {
    level: "warning" as const,
    message: sarifMessage(doubt.message),
    descriptor: { id: doubt.code },
    locations: [where],
  };
}
