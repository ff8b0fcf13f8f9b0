import type { Finding, Outcome } from "../verdict/finding.js";
import type { Report, ReportHeat } from "./report.js";

/** What would be another report: of one submission under two requirements. */
export interface ReportDifference {
  readonly verdict: Change<Outcome>;
  readonly heats: readonly HeatDifference[];
}

export interface HeatDifference {
  readonly heat: string;
  readonly verdict: Change<Outcome>;
  /** Findings that say the same before and after. */
  readonly unchanged: number;
  readonly findings: readonly FindingChange[];
}

export interface Change<Value> {
  readonly before: Value;
  readonly after: Value;
}

/** Only `before`: no longer asked. Only `after`: newly asked. Both: another limit or another outcome. */
export interface FindingChange {
  readonly before?: Finding;
  readonly after?: Finding;
}

/** `heat`: only this one. Both reports are of the same documents, so heats and readings have the same names and numbers. */
export function reportDifference(before: Report, after: Report, heat?: string): ReportDifference {
  const heats = after.heats.filter((candidate) => heat === undefined || candidate.heat === heat);
  return {
    verdict: { before: before.verdict, after: after.verdict },
    heats: heats.flatMap((now) => {
      const earlier = before.heats.find((candidate) => candidate.heat === now.heat);
      return earlier ? [heatDifference(earlier, now)] : [];
    }),
  };
}

function heatDifference(before: ReportHeat, after: ReportHeat): HeatDifference {
  const left = [...before.findings];
  const right = [...after.findings];
  const unchanged = takePairs(left, right, (finding) => `${facts(finding)} ${subject(finding)}`).length;
  const renamed = takePairs(left, right, facts).length;
  const changed = takePairs(left, right, subject);
  return {
    heat: after.heat,
    verdict: { before: before.verdict, after: after.verdict },
    unchanged: unchanged + renamed,
    findings: [
      ...changed,
      ...left.map((finding) => ({ before: finding })),
      ...right.map((finding) => ({ after: finding })),
    ],
  };
}

/** Takes out of both lists what has the same key, pair by pair in the order of the first. */
function takePairs(left: Finding[], right: Finding[], key: (finding: Finding) => string) {
  const pairs: { before: Finding; after: Finding }[] = [];
  for (const before of [...left]) {
    const index = right.findIndex((candidate) => key(candidate) === key(before));
    if (index < 0) continue;
    pairs.push({ before, after: right[index]! });
    right.splice(index, 1);
    left.splice(left.indexOf(before), 1);
  }
  return pairs;
}

/** What a finding says, without its words: a requirement that was only renamed changes nothing. */
function facts({ outcome, reason, quantity, zone, readings, judged, unit, limit, margin }: Finding): string {
  const bounds = limit && [limit.min, limit.max, limit.unit];
  return JSON.stringify([outcome, reason, quantity, zone, readings, judged, unit, bounds, margin]);
}

/** What a finding is about. A project's limits are numbered in the order in which they stand, which is no name. */
function subject({ quantity, zone, limit, source }: Finding): string {
  const isProject = limit?.id.startsWith("requirement#") ?? false;
  return JSON.stringify([quantity, zone, isProject ? "project" : (limit?.id ?? source.standard)]);
}
