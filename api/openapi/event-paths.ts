import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { deliveriesSchema, eventsSchema } from "../responses/event-body.js";
import { eventsQuerySchema } from "../routes/events.js";
import { refusals } from "./answers.js";
import { idParameter } from "./submission-paths.js";

export function eventPaths(): ZodOpenApiPathsObject {
  const path = z.object({ id: idParameter });
  return {
    "/v1/events": {
      get: {
        operationId: "listEvents",
        summary:
          "Everything that was told to receivers, oldest first: poll it so that nothing is lost even if webhooks are",
        tags: ["Events"],
        requestParams: { query: eventsQuerySchema },
        responses: {
          "200": {
            description: "Events after the given one",
            content: { "application/json": { schema: eventsSchema } },
          },
          ...refusals("parameter-invalid"),
        },
      },
    },
    "/v1/submissions/{id}/deliveries": {
      get: {
        operationId: "listDeliveries",
        summary: "What became of the submission's webhook, try by try",
        tags: ["Events"],
        requestParams: { path },
        responses: {
          "200": { description: "Its deliveries", content: { "application/json": { schema: deliveriesSchema } } },
          ...refusals("submission-unknown"),
        },
      },
      post: {
        operationId: "redeliver",
        summary: "Send the submission's webhook again now, with the same webhook-id",
        tags: ["Events"],
        requestParams: { path },
        responses: {
          "202": { description: "It will be sent", content: { "application/json": { schema: deliveriesSchema } } },
          ...refusals("submission-unknown", "receiver-missing"),
        },
      },
    },
  };
}
