import { z } from "zod";
import type { Report } from "../../core/report/report.js";
import type { Outcome } from "../../core/verdict/finding.js";
import type { SubmissionRecord, SubmissionState } from "../../worker/store/records.js";
import { outcomeSchema, reportSchema } from "./report-schema.js";

const SUBMISSION_STATES = ["accepted", "working", "done", "failed"] as const satisfies readonly SubmissionState[];

const heatSummarySchema = z
  .strictObject({
    heat: z.string(),
    verdict: outcomeSchema,
    findings: z
      .record(outcomeSchema, z.int().nonnegative())
      .meta({ description: "How many findings had each outcome" }),
    reasons: z
      .array(z.strictObject({ outcome: outcomeSchema, quantity: z.string(), message: z.string() }))
      .meta({ description: "The findings that failed or stayed undetermined, in words" }),
  })
  .meta({ id: "HeatSummary" });

const documentSchema = z.strictObject({
  name: z.string(),
  sha256: z.string(),
  bytes: z.int(),
  mediaType: z.string(),
  link: z.string(),
  doubts: z
    .array(z.strictObject({ code: z.string(), message: z.string() }))
    .exactOptional()
    .meta({ description: "What could not be read or placed; the report says where" }),
});

export const submissionSchema = z
  .strictObject({
    id: z.string(),
    state: z.enum(SUBMISSION_STATES).meta({ description: "done and failed are final" }),
    createdAt: z.iso.datetime(),
    finishedAt: z.iso.datetime().exactOptional(),
    verdict: outcomeSchema.exactOptional(),
    heats: z.array(heatSummarySchema).exactOptional(),
    failure: z.strictObject({ code: z.string(), message: z.string() }).exactOptional(),
    requirement: z.strictObject({ name: z.string() }).nullable(),
    documents: z.array(documentSchema),
    documentsErasedAt: z.iso
      .datetime()
      .exactOptional()
      .meta({ description: "The bytes of the documents are kept no more; the report is" }),
    tags: z.record(z.string(), z.string()),
    callback: z.strictObject({ url: z.string(), secret: z.string().exactOptional() }).exactOptional(),
    correctionOf: z.string().exactOptional().meta({ description: "The submission whose readings a person corrected" }),
    links: z.strictObject({ self: z.string(), report: z.string() }),
  })
  .meta({ id: "Submission" });
export type SubmissionBody = z.infer<typeof submissionSchema>;
export type HeatSummary = z.infer<typeof heatSummarySchema>;

/** What POST /v1/submissions answers: with the report, where the sender waited for it. */
export const acceptedSchema = submissionSchema
  .extend({ report: reportSchema.exactOptional() })
  .meta({ id: "SubmissionWithReport" });

export const submissionsSchema = z.strictObject({
  items: z.array(submissionSchema),
  next: z.string().exactOptional().meta({ description: "Address of the next page; absent on the last" }),
});

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
    documents: record.documents.map(({ name, sha256, bytes, mediaType }, position) => {
      const doubts = report?.documents[position]?.doubts.map(({ code, message }) => ({ code, message }));
      return { name, sha256, bytes, mediaType, link: `${self}/documents/${sha256}`, ...(doubts ? { doubts } : {}) };
    }),
    ...(record.documentsErasedAt ? { documentsErasedAt: record.documentsErasedAt.toISOString() } : {}),
    tags: { ...record.tags },
    ...(record.callbackUrl === undefined ? {} : { callback: { url: record.callbackUrl } }),
    ...(record.correction ? { correctionOf: record.correction.of } : {}),
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
    reasons: open.map(({ outcome, quantity, message }) => ({ outcome, quantity, message })),
  };
}
