import { Router } from "express";
import { type KeyRecord, type NewKey, TooManyLiveKeys } from "../../worker/store/keys.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { jsonBody } from "../middleware/json-body.js";
import { Problem } from "../problems.js";
import { newKeySchema } from "../requests/new-key.js";
import { checkJson } from "../requests/parse-json.js";
import { keyBody } from "../responses/key-body.js";

export function keyRoutes({ keys }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/keys")
    .get(needs("admin"), async (_request, response) => {
      const items = (await keys.list(reachOf(holderOf(response)))).map(keyBody);
      response.set("Cache-Control", "no-store").json({ items });
    })
    .post(needs("admin"), jsonBody("16kb"), async (request, response) => {
      const holder = holderOf(response);
      const { expiresAt, ...asked } = checkJson(request.body, newKeySchema, "The key", "key-invalid");
      refuseMoreThanOwn(holder, asked);
      if (expiresAt !== undefined && new Date(expiresAt) <= new Date()) throw expiresInThePast();
      const made = await keys
        .create({ ...asked, ...(expiresAt === undefined ? {} : { expiresAt: new Date(expiresAt) }) }, holder.name)
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
      const holder = holderOf(response);
      if (!(await keys.revoke(request.params.id, holder.name, reachOf(holder)))) throw new Problem("key-id-unknown");
      response.status(204).end();
    })
    .all(allowMethods("DELETE"));

  return router;
}

/** The client whose keys this holder looks after; none: those of all clients. */
function reachOf({ client, scopes }: KeyRecord): string | undefined {
  return scopes.includes("operate") ? undefined : client;
}

/** Made all the same, it would look like a key that was lost. */
function expiresInThePast(): Problem {
  return new Problem("key-invalid", {
    errors: [{ pointer: "/expiresAt", detail: "is past: the key would never work" }],
  });
}

/** Nobody makes a key that may do more than their own: another client's, or one with a scope that theirs has not. */
function refuseMoreThanOwn(holder: KeyRecord, { client, scopes }: Pick<NewKey, "client" | "scopes">): void {
  if (holder.scopes.includes("operate")) return;
  if (client !== holder.client) {
    throw new Problem("scope-missing", { detail: "The scope operate is needed for keys of another client." });
  }
  const more = scopes.filter((scope) => !holder.scopes.includes(scope));
  if (more.length > 0) {
    throw new Problem("scope-missing", { detail: `This key cannot give what it has not: ${more.join(", ")}.` });
  }
}
