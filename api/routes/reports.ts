import { Router } from "express";
import type { Report } from "../../core/report/report.js";
import type { SubmissionRecord } from "../../worker/store/records.js";
import type { AppDeps, Face } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { Problem } from "../problems.js";
import { findSubmission } from "./submissions.js";

/** A page may draw itself with its own style and pictures, and may fetch and run nothing. */
const PAGE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'";

export function reportRoutes(deps: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });
  const mediaTypes = ["application/json", ...deps.faces.map((face) => face.mediaType)];

  router
    .route("/submissions/:id/report")
    .get(async (request, response) => {
      const record = await findSubmission(deps.records, request.params.id);
      const stored = await deps.records.getReport(record.id);
      if (!stored) throw whyNoReport(record);

      const chosen = request.accepts(mediaTypes);
      if (!chosen) throw new Problem("not-acceptable", { detail: `Reports are given as ${mediaTypes.join(", ")}.` });
      const face = deps.faces.find(({ mediaType }) => mediaType === chosen);

      response.set({ ETag: entityTag(stored.digest, face), Vary: "Accept", "Cache-Control": "private, immutable" });
      if (request.fresh) {
        response.status(304).end();
        return;
      }
      if (face?.mediaType === "text/html") response.set("Content-Security-Policy", PAGE_POLICY);
      const body = face ? await face.render(JSON.parse(stored.json) as Report, stored.digest) : stored.json;
      response.type(chosen).send(typeof body === "string" ? body : Buffer.from(body));
    })
    .all(allowMethods("GET"));

  return router;
}

/** A report never changes, so its digest is a strong tag; each face of it is another representation with its own. */
function entityTag(digest: string, face: Face | undefined): string {
  return face ? `"${digest};${face.mediaType}"` : `"${digest}"`;
}

function whyNoReport(record: SubmissionRecord): Problem {
  if (record.failure) return new Problem("submission-failed", { detail: record.failure.message });
  return new Problem("report-not-ready", { headers: { "Retry-After": "1" } });
}
