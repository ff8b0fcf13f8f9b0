import { Router } from "express";
import { z } from "zod";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { Problem } from "../problems.js";
import { limitParameter } from "../requests/list-query.js";
import { readQuery } from "../requests/query.js";
import { deliveryBody, eventsBody } from "../responses/event-body.js";
import { findSubmission } from "./submissions.js";

export const eventsQuerySchema = z.strictObject({
  after: z.coerce
    .number()
    .int()
    .min(0)
    .max(Number.MAX_SAFE_INTEGER)
    .default(0)
    .meta({ description: "`next` of the answer before; 0 for all" }),
  limit: limitParameter,
});

/** The feed that makes webhooks lossless, and what became of a submission's own webhook. */
export function eventRoutes({ records }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/events")
    .get(needs("read"), async (request, response) => {
      const { after, limit } = readQuery(request, eventsQuerySchema);
      const { client } = holderOf(response);
      const events = await records.listEvents(client, after, limit);
      const horizon = await records.eventHorizon(client);
      response.set("Cache-Control", "private, no-cache").json(eventsBody(events, after, horizon));
    })
    .all(allowMethods("GET"));

  router
    .route("/submissions/:id/deliveries")
    .get(needs("read"), async (request, response) => {
      const { id } = await findSubmission(records, request.params.id, response);
      const deliveries = await records.listDeliveries(id, holderOf(response).client);
      response.set("Cache-Control", "private, no-cache").json({ items: deliveries.map(deliveryBody) });
    })
    .post(needs("submit"), async (request, response) => {
      const { id } = await findSubmission(records, request.params.id, response);
      if (!(await records.redeliver(id, holderOf(response).client))) throw new Problem("receiver-missing");
      const deliveries = await records.listDeliveries(id, holderOf(response).client);
      response.status(202).json({ items: deliveries.map(deliveryBody) });
    })
    .all(allowMethods("GET", "POST"));

  return router;
}
