import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { EVENT_TYPES, type EventType } from "../../worker/store/event-types.js";
import { webhookSchemaName } from "../responses/webhook-body.js";

const SUMMARIES: Readonly<Record<EventType, string>> = {
  "submission.done": "A submission was judged, whatever the verdict",
  "submission.failed": "A submission ended without a report, and the failure says why; no verdict on the metal",
  "submission.erased": "A submission was erased on request, and with it those that corrected it",
  "heat.failed": "Heats of a submission failed: one event for all of them",
  "decision.recorded": "A person decided about a heat",
  "endpoint.disabled": "A receiver of yours gets nothing more until you take it into service again",
  "endpoint.test": "You asked for a test; only the endpoint that it was asked of hears it",
};

const headers = z.object({
  "webhook-id": z.string().meta({ description: "Of the event; stays the same over all tries. Act once for each" }),
  "webhook-timestamp": z
    .string()
    .meta({ description: "Unix seconds of this try; refuse what is older than five minutes" }),
  "webhook-signature": z.string().meta({
    description:
      "By Standard Webhooks, over `id.timestamp.body`: one or more of `v1,<base64>` (HMAC-SHA256) and `v1a,<base64>` (Ed25519), with a space between",
  }),
});

/** What this service sends: to a submission's callback submission.done, submission.failed and submission.erased, to an endpoint what it chose. */
export function webhooks(): ZodOpenApiPathsObject {
  return Object.fromEntries(EVENT_TYPES.map((type) => [type, { post: webhook(type) }]));
}

function webhook(type: EventType) {
  return {
    summary: SUMMARIES[type],
    tags: ["Webhooks"],
    security: [],
    requestParams: { header: headers },
    // The feed's events bring the schema in, as something that we send and may add fields to.
    requestBody: {
      required: true,
      content: { "application/json": { schema: { $ref: `#/components/schemas/${webhookSchemaName(type)}` } } },
    },
    responses: {
      "2XX": { description: "Taken. Answer within 20 seconds, and work on it afterwards" },
      "410": { description: "Send nothing there any more; an endpoint is disabled" },
      default: { description: "Tried again, ten times over three days; a Retry-After is honoured" },
    },
  };
}
