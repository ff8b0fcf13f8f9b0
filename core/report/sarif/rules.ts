import type { Finding } from "../../verdict/finding.js";
import { limitText, sourceText } from "../limit-text.js";
import type { Report } from "../report.js";
import { sarifMessage } from "./message.js";

/** A finding without a limit (document type, consistency) is known by what it is about. */
export function ruleIdOf({ limit, quantity }: Finding): string {
  return limit?.id ?? quantity.replaceAll(" ", "-");
}

/** Every limit held against any heat, once, in the order of first use. */
export function rulesOf(report: Report) {
  const findings = report.heats.flatMap((heat) => heat.findings);
  const firstByRule = new Map<string, Finding>();
  for (const finding of findings) {
    if (!firstByRule.has(ruleIdOf(finding))) firstByRule.set(ruleIdOf(finding), finding);
  }
  return [...firstByRule].map(([id, finding]) => ({ id, descriptor: descriptor(id, finding) }));
}

function descriptor(id: string, finding: Finding) {
  const what = [finding.quantity, limitText(finding)].filter(Boolean).join(" ");
  return {
    id,
    shortDescription: sarifMessage(`${what} (${sourceText(finding)})`),
    properties: { known: finding.source.known, verified: finding.source.verified },
  };
}
