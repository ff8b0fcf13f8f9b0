import type { Report } from "../../core/report/report.js";
import type { Outcome } from "../../core/verdict/finding.js";
import type { SubmissionRecord, SubmissionState } from "../../worker/store/records.js";

export interface SubmissionBody {
  readonly id: string;
  readonly state: SubmissionState;
  readonly createdAt: string;
  readonly finishedAt?: string;
  readonly verdict?: Outcome;
  readonly heats?: readonly HeatSummary[];
  readonly failure?: { readonly code: string; readonly message: string };
  readonly requirement: { readonly name: string } | null;
  readonly documents: readonly DocumentBody[];
  readonly tags: Readonly<Record<string, string>>;
  readonly callback?: { readonly url: string; readonly secret?: string };
  readonly links: { readonly self: string; readonly report: string };
}

interface DocumentBody {
  readonly name: string;
  readonly sha256: string;
  readonly bytes: number;
  readonly mediaType: string;
  readonly link: string;
}

export interface HeatSummary {
  readonly heat: string;
  readonly verdict: Outcome;
  readonly findings: Readonly<Record<Outcome, number>>;
  /** The sentences of the findings that failed or stayed undetermined. */
  readonly reasons: readonly string[];
}

/** A submission as the wire shows it. `report`: when there is one, the heats are summed up from it. */
export function submissionBody(record: SubmissionRecord, report?: Report): SubmissionBody {
  const self = `/v1/submissions/${record.id}`;
  return {
    id: record.id,
    state: record.state,
    createdAt: record.createdAt.toISOString(),
    ...(record.finishedAt ? { finishedAt: record.finishedAt.toISOString() } : {}),
    ...(record.verdict ? { verdict: record.verdict } : {}),
    ...(report ? { heats: report.heats.map(summariseHeat) } : {}),
    ...(record.failure ? { failure: record.failure } : {}),
    requirement: record.requirement ? { name: record.requirement.name } : null,
    documents: record.documents.map(({ name, sha256, bytes, mediaType }) => {
      return { name, sha256, bytes, mediaType, link: `${self}/documents/${sha256}` };
    }),
    tags: record.tags,
    ...(record.callbackUrl === undefined ? {} : { callback: { url: record.callbackUrl } }),
    links: { self, report: `${self}/report` },
  };
}

function summariseHeat(heat: Report["heats"][number]): HeatSummary {
  const count = (outcome: Outcome) => heat.findings.filter((finding) => finding.outcome === outcome).length;
  const open = heat.findings.filter((finding) => finding.outcome === "fail" || finding.outcome === "undetermined");
  return {
    heat: heat.heat,
    verdict: heat.verdict,
    findings: {
      fail: count("fail"),
      undetermined: count("undetermined"),
      pass: count("pass"),
      "not-applicable": count("not-applicable"),
    },
    reasons: open.map((finding) => finding.message),
  };
}
