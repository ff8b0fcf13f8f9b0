import { Router } from "express";
import { correctionsSchema } from "../../core/certificate/corrections.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { jsonBody } from "../middleware/json-body.js";
import { checkJson } from "../requests/parse-json.js";
import { submissionBody } from "../responses/submission-body.js";
import { correctSubmission } from "./correct-submission.js";
import { findSubmission } from "./submissions.js";

export function correctionRoutes(deps: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/submissions/:id/corrections")
    .post(needs("decide"), jsonBody("256kb"), async (request, response) => {
      const record = await findSubmission(deps.records, request.params.id, response);
      const corrections = checkJson(request.body, correctionsSchema, "The corrections", "corrections-invalid");
      const corrected = submissionBody(await correctSubmission(deps, record, corrections, holderOf(response).name));
      response.status(202).location(corrected.links.self).set("Retry-After", "1").json(corrected);
    })
    .all(allowMethods("POST"));

  return router;
}
