import { create } from "content-disposition";
import { Router } from "express";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { needs } from "../middleware/authenticate.js";
import { Problem } from "../problems.js";
import { findSubmission } from "./submissions.js";

export function documentErased(at: Date): Problem {
  return new Problem("document-erased", { detail: `The bytes of the documents were erased on ${at.toISOString()}.` });
}

export function documentRoutes(deps: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/submissions/:id/documents/:sha256")
    .get(needs("read"), async (request, response) => {
      const { id, sha256 } = request.params;
      const record = await findSubmission(deps.records, id, response);
      const document = record.documents.find((candidate) => candidate.sha256 === sha256);
      if (!document) throw new Problem("document-unknown");
      if (record.documentsErasedAt) throw documentErased(record.documentsErasedAt);
      response.set({
        ETag: `"${sha256}"`,
        "Cache-Control": "private, immutable",
        // What a stranger sent is never shown as a page of ours, whatever type was declared for it.
        "Content-Type": "application/octet-stream",
        "Content-Disposition": create(document.name),
      });
      if (request.fresh) response.status(304).end();
      else response.send(Buffer.from(await deps.documents.get(sha256)));
    })
    .all(allowMethods("GET"));

  return router;
}
