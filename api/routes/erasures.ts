import { Router } from "express";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { jsonBody } from "../middleware/json-body.js";
import { Problem } from "../problems.js";
import { newErasureSchema } from "../requests/new-erasure.js";
import { checkJson } from "../requests/parse-json.js";
import { erasureBody } from "../responses/erasure-body.js";
import { findSubmission } from "./submissions.js";

/** Erasing a submission on request. A POST and not a DELETE, for it needs a reason, and a DELETE carries no body that proxies pass on. */
export function erasureRoutes({ records, eraseBytes }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/submissions/:id/erasure")
    .get(needs("read"), async (request, response) => {
      const erasure = await records.getErasure(request.params.id, holderOf(response).client);
      if (!erasure) {
        await findSubmission(records, request.params.id, response);
        throw new Problem("erasure-unknown");
      }
      response.set("Cache-Control", "private, no-cache").json(erasureBody(erasure));
    })
    .post(needs("admin"), jsonBody("64kb"), async (request, response) => {
      const { id } = await findSubmission(records, request.params.id, response);
      const { reference, ...asked } = checkJson(request.body, newErasureSchema, "The erasure", "erasure-invalid");
      const { client, name } = holderOf(response);
      const erasure = await records.erase(id, client, {
        ...asked,
        ...(reference ? { reference } : {}),
        keyName: name,
      });
      // Somebody else was quicker.
      if (!erasure) throw new Problem("submission-erased");
      await eraseBytes(erasure.documents);
      response.json(erasureBody(erasure));
    })
    .all(allowMethods("GET", "POST"));

  return router;
}
