import { Router } from "express";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { Problem } from "../problems.js";
import { signingKeyBody, signingKeySetBody } from "../responses/signature-body.js";

/** The public keys, for anybody who wants to check a report. */
export function publicKeyRoutes({ signingKeys }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/.well-known/jwks.json")
    .get(async (_request, response) => {
      // Long enough to spare the service, short enough that a revoked key is soon known.
      response.set("Cache-Control", "public, max-age=300").json(signingKeySetBody(await signingKeys.list()));
    })
    .all(allowMethods("GET"));

  return router;
}

export function signingKeyRoutes({ signingKeys }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/signing-keys")
    .post(needs("operate"), async (_request, response) => {
      response.status(201).json(signingKeyBody(await signingKeys.rotate(holderOf(response).name)));
    })
    .all(allowMethods("POST"));

  router
    .route("/signing-keys/:keyId")
    .delete(needs("operate"), async (request, response) => {
      const isRevoked = await signingKeys.revoke(request.params.keyId, holderOf(response).name);
      if (!isRevoked) throw new Problem("signing-key-unknown");
      response.status(204).end();
    })
    .all(allowMethods("DELETE"));

  return router;
}
