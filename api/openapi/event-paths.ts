import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { deliveriesSchema, eventsSchema } from "../responses/event-body.js";
import { eventsQuerySchema } from "../routes/events.js";
import { KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";
import { idParameter } from "./submission-paths.js";

export function eventPaths(): ZodOpenApiPathsObject {
  const path = z.object({ id: idParameter });
  return {
    "/v1/events": {
      get: {
        operationId: "listEvents",
        ...needsScope("read"),
        summary:
          "Everything that was told to receivers, oldest first: poll it so that nothing is lost even if webhooks are",
        tags: ["Events"],
        requestParams: { query: eventsQuerySchema },
        responses: {
          "200": {
            description: "Events after the given one",
            content: { "application/json": { schema: eventsSchema } },
          },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "parameter-invalid"),
        },
      },
    },
    "/v1/submissions/{id}/deliveries": {
      get: {
        operationId: "listDeliveries",
        ...needsScope("read"),
        summary: "What became of the submission's webhook, try by try",
        tags: ["Events"],
        requestParams: { path },
        responses: {
          "200": { description: "Its deliveries", content: { "application/json": { schema: deliveriesSchema } } },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "submission-unknown"),
        },
      },
      post: {
        operationId: "redeliver",
        ...needsScope("submit"),
        summary: "Send the submission's webhook again now, with the same webhook-id",
        tags: ["Events"],
        requestParams: { path },
        responses: {
          "202": { description: "It will be sent", content: { "application/json": { schema: deliveriesSchema } } },
          ...refusals(...KEY_REFUSALS, "submission-unknown", "receiver-missing"),
        },
      },
    },
  };
}
