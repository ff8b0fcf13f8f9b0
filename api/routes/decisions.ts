import { Router } from "express";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { jsonBody } from "../middleware/json-body.js";
import { newDecisionSchema } from "../requests/new-decision.js";
import { checkJson } from "../requests/parse-json.js";
import { readQuery } from "../requests/query.js";
import { decisionBody } from "../responses/decision-body.js";
import { decideHeat } from "./decide-heat.js";
import { eventsQuerySchema } from "./events.js";
import { findSubmission } from "./submissions.js";

/** What people decided about heats, and the trail that proves what was known when. */
export function decisionRoutes(deps: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/submissions/:id/decisions")
    .get(needs("read"), async (request, response) => {
      const { id } = await findSubmission(deps.records, request.params.id, response);
      const decisions = await deps.decisions.list(id, holderOf(response).client);
      response.set("Cache-Control", "private, no-cache").json({ items: decisions.map(decisionBody) });
    })
    .post(needs("decide"), jsonBody("64kb"), async (request, response) => {
      await findSubmission(deps.records, request.params.id, response);
      const asked = checkJson(request.body, newDecisionSchema, "The decision", "decision-invalid");
      response.status(201).json(decisionBody(await decideHeat(deps, request.params.id, asked, response)));
    })
    .all(allowMethods("GET", "POST"));

  router
    .route("/audit")
    .get(needs("read"), async (request, response) => {
      const { after, limit } = readQuery(request, eventsQuerySchema);
      const items = await deps.listAudit(holderOf(response).client, after, limit);
      response.set("Cache-Control", "private, no-cache").json({ items, next: items.at(-1)?.number ?? after });
    })
    .all(allowMethods("GET"));

  return router;
}
