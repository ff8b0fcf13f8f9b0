import { z } from "zod";
import { ACTIONS } from "../../worker/store/decisions.js";
import type { EventType } from "../../worker/store/event-types.js";
import { outcomeSchema, reportSchema } from "./report-schema.js";

const submission = z.string();
const sequence = z.int().positive().exactOptional().meta({
  description:
    "The event's number in the feed, by which to sort what tries and retries bring out of order. Absent only of events from before bodies had it",
});
const reportLink = z
  .strictObject({ url: z.string(), sha256: z.string() })
  .meta({ description: "Where the report is, and the SHA-256 of its bytes" });
const wholeReport = reportSchema
  .exactOptional()
  .meta({ description: "Full bodies below 256 kB only: the report, byte for byte as it is stored" });

const statement = z
  .strictObject({ person: z.string(), reason: z.string(), reference: z.string().exactOptional() })
  .exactOptional()
  .meta({ description: "Full bodies only" });

/** What each event says in `data`. Thin and full bodies differ by `content`. */
const DATA = {
  "submission.done": z.strictObject({
    submission,
    verdict: outcomeSchema,
    heats: z.record(outcomeSchema, z.int().nonnegative()).meta({ description: "How many heats ended so" }),
    report: reportLink,
    content: wholeReport,
  }),
  "submission.failed": z.strictObject({
    submission,
    failure: z.strictObject({ code: z.string(), message: z.string() }),
    links: z.strictObject({ url: z.string() }),
  }),
  "submission.erased": z.strictObject({
    submission,
    corrections: z.array(z.string()).exactOptional().meta({ description: "Submissions that corrected it, erased too" }),
    reportSha256: z.string().exactOptional(),
    content: statement,
  }),
  "heat.failed": z.strictObject({
    submission,
    failed: z.int().positive().meta({ description: "How many heats failed" }),
    heats: z.array(z.string()).meta({ description: "Their numbers, the first hundred" }),
    report: reportLink,
    content: wholeReport,
  }),
  "decision.recorded": z.strictObject({
    submission,
    heat: z.string(),
    action: z.enum(ACTIONS),
    decision: z.string(),
    verdict: outcomeSchema.meta({ description: "The heat's verdict when it was decided" }),
    reportSha256: z.string(),
    content: statement,
  }),
  "endpoint.disabled": z.strictObject({
    endpoint: z.string(),
    receiver: z.string().meta({ description: "Scheme, host and port" }),
    because: z.enum(["gone", "failing", "asked"]),
    failingSince: z.iso.datetime().exactOptional(),
  }),
  "endpoint.test": z.strictObject({ endpoint: z.string() }),
} as const satisfies Record<EventType, z.ZodObject>;

const BODIES = Object.entries(DATA).map(([type, data]) =>
  z
    .strictObject({ type: z.literal(type), sequence, timestamp: z.iso.datetime(), data })
    .meta({ id: webhookSchemaName(type as EventType) }),
);

/** The body of a webhook, of whichever type. */
export const webhookBodySchema = z.union(BODIES as readonly z.ZodType[] as readonly [z.ZodType<{ type: string }>]);

/** submission.done is described as WebhookSubmissionDone. */
export function webhookSchemaName(type: EventType): string {
  return `Webhook${type
    .split(".")
    .map((word) => word.charAt(0).toUpperCase() + word.slice(1))
    .join("")}`;
}
