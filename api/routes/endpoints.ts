import { Router } from "express";
import { z } from "zod";
import { EndpointDisabled, TooMany } from "../../worker/store/endpoints.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { jsonBody } from "../middleware/json-body.js";
import { Problem, type ProblemCode } from "../problems.js";
import {
  changeOf,
  endpointChangeSchema,
  newEndpointSchema,
  newSecretSchema,
  oldEndAt,
  replaySchema,
  secretOf,
  settingsOf,
} from "../requests/endpoint.js";
import { cursorParameter, limitParameter } from "../requests/list-query.js";
import { nextLink, readPage } from "../requests/page.js";
import { checkJson } from "../requests/parse-json.js";
import { readQuery } from "../requests/query.js";
import { endpointBody, endpointWithSecretBody } from "../responses/endpoint-body.js";
import { deliveryBody } from "../responses/event-body.js";

export const deliveriesQuerySchema = z.strictObject({ limit: limitParameter, cursor: cursorParameter });

const json = jsonBody("16kb");

/** Receivers that a client registered: told of everything that they chose, until they are deleted. */
export function endpointRoutes({ endpoints, callbackProblem }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });
  // Every answer may hold an address with its owner's tokens in it.
  router.use("/endpoints", (_request, response, next) => {
    response.set("Cache-Control", "no-store");
    next();
  });

  router
    .route("/endpoints")
    .get(needs("admin"), async (_request, response) => {
      const found = await endpoints.list(holderOf(response).client);
      response.json({ items: found.map(endpointBody) });
    })
    .post(needs("admin"), json, async (request, response) => {
      const asked = checkJson(request.body, newEndpointSchema, "The endpoint", "endpoint-invalid");
      refuseAddress(asked.url);
      const { client, name } = holderOf(response);
      const made = await orRefuse("too-many-endpoints", () =>
        endpoints.create(client, settingsOf(asked), secretOf(asked), name),
      );
      response.status(201).location(`/v1/endpoints/${made.endpoint.id}`).json(endpointWithSecretBody(made));
    })
    .all(allowMethods("GET", "POST"));

  router
    .route("/endpoints/:id")
    .get(needs("admin"), async (request, response) => {
      response.json(endpointBody(known(await endpoints.get(holderOf(response).client, request.params.id))));
    })
    .patch(needs("admin"), json, async (request, response) => {
      const asked = checkJson(request.body, endpointChangeSchema, "The change", "endpoint-invalid");
      if (asked.url !== undefined) refuseAddress(asked.url);
      const { client, name } = holderOf(response);
      response.json(endpointBody(known(await endpoints.update(client, request.params.id, changeOf(asked), name))));
    })
    .delete(needs("admin"), async (request, response) => {
      const { client, name } = holderOf(response);
      if (!(await endpoints.remove(client, request.params.id, name))) throw new Problem("endpoint-unknown");
      response.status(204).end();
    })
    .all(allowMethods("GET", "PATCH", "DELETE"));

  router
    .route("/endpoints/:id/secrets")
    .post(needs("admin"), json, async (request, response) => {
      const asked = checkJson(request.body ?? {}, newSecretSchema, "The secret", "endpoint-invalid");
      const { client, name } = holderOf(response);
      const until = oldEndAt(asked.oldForHours, new Date());
      const made = await orRefuse("too-many-secrets", () =>
        endpoints.rotateSecret(client, request.params.id, secretOf(asked), until, name),
      );
      response.status(201).json(endpointWithSecretBody(known(made)));
    })
    .all(allowMethods("POST"));

  router
    .route("/endpoints/:id/test")
    .post(needs("admin"), async (request, response) => {
      const event = await orRefuse("endpoint-disabled", () =>
        endpoints.sendTest(holderOf(response).client, request.params.id),
      );
      response.status(202).json({ event: known(event) });
    })
    .all(allowMethods("POST"));

  router
    .route("/endpoints/:id/replay")
    .post(needs("admin"), json, async (request, response) => {
      const { since, onlyUndelivered } = checkJson(request.body, replaySchema, "The replay", "endpoint-invalid");
      const { client } = holderOf(response);
      const done = await orRefuse("endpoint-disabled", () =>
        endpoints.replay(client, request.params.id, new Date(since), onlyUndelivered),
      );
      const { deliveries, continueSince } = known(done);
      response.status(202).json({ deliveries, ...(continueSince && { continueSince: continueSince.toISOString() }) });
    })
    .all(allowMethods("POST"));

  router
    .route("/endpoints/:id/deliveries")
    .get(needs("admin"), async (request, response) => {
      const { limit, cursor } = readQuery(request, deliveriesQuerySchema);
      const { client } = holderOf(response);
      const page = await readPage(() => endpoints.listDeliveries(client, request.params.id, limit, cursor));
      const { items, next } = known(page);
      response.json({ items: items.map(deliveryBody), ...nextLink(request.originalUrl, next) });
    })
    .all(allowMethods("GET"));

  return router;

  function refuseAddress(url: string): void {
    const detail = callbackProblem(url);
    if (detail) throw new Problem("callback-refused", { detail, errors: [{ pointer: "/url", detail }] });
  }
}

/** Another client's endpoint is as unknown as one that never was. */
function known<Found>(found: Found | undefined): Found {
  if (found === undefined) throw new Problem("endpoint-unknown");
  return found;
}

async function orRefuse<Result>(code: ProblemCode, work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    const isOurs = error instanceof TooMany || error instanceof EndpointDisabled;
    throw isOurs ? new Problem(code, { detail: error.message }) : error;
  }
}
