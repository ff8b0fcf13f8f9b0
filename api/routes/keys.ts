import express, { Router } from "express";
import { TooManyLiveKeys } from "../../worker/store/keys.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { Problem } from "../problems.js";
import { newKeySchema } from "../requests/new-key.js";
import { checkJson } from "../requests/parse-json.js";
import { keyBody } from "../responses/key-body.js";

export function keyRoutes({ keys }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/keys")
    .get(needs("admin"), async (_request, response) => {
      response.set("Cache-Control", "no-store").json({ items: (await keys.list()).map(keyBody) });
    })
    .post(needs("admin"), express.json({ limit: "16kb", type: () => true }), async (request, response) => {
      const { expiresAt, ...asked } = checkJson(request.body, newKeySchema, "The key", "key-invalid");
      const made = await keys
        .create(
          { ...asked, ...(expiresAt === undefined ? {} : { expiresAt: new Date(expiresAt) }) },
          holderOf(response).name,
        )
        .catch((error: unknown) => {
          throw error instanceof TooManyLiveKeys ? new Problem("too-many-keys", { detail: error.message }) : error;
        });
      response
        .status(201)
        .set("Cache-Control", "no-store")
        .json({ ...keyBody(made.record), key: made.key });
    })
    .all(allowMethods("GET", "POST"));

  router
    .route("/keys/:id")
    .delete(needs("admin"), async (request, response) => {
      if (!(await keys.revoke(request.params.id, holderOf(response).name))) throw new Problem("key-id-unknown");
      response.status(204).end();
    })
    .all(allowMethods("DELETE"));

  return router;
}
