import { type Request, type Response, Router } from "express";
import type { Report } from "../../core/report/report.js";
import type { SpotPicture } from "../../core/report/spot-picture.js";
import type { StoredReport, SubmissionRecord } from "../../worker/store/records.js";
import type { AppDeps, Face } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { Problem } from "../problems.js";
import { signatureBody, signatureHeader } from "../responses/signature-body.js";
import { findSubmission } from "./submissions.js";

/** A page may draw itself with its own style and pictures, and may fetch and run nothing. */
export const REPORT_PAGE_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/** The report itself needs no drawing. */
const JSON_FACE = { name: "json", mediaType: "application/json" } as const;
type Form = Face | typeof JSON_FACE;

export function reportRoutes(deps: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/submissions/:id/report")
    .get(needs("read"), async (request, response) => {
      const stored = await findReport(deps, request.params.id, response);
      const face = chooseFace(request, [JSON_FACE, ...deps.faces]);
      response.set({ ETag: entityTag(stored.digest, face), Vary: "Accept", "Cache-Control": "private, immutable" });
      if (face === JSON_FACE) response.set("Heatgate-Signature", signatureHeader(stored));
      if (request.fresh) {
        response.status(304).end();
        return;
      }
      if (face.mediaType === "text/html") response.set("Content-Security-Policy", REPORT_PAGE_POLICY);
      const pictures =
        "render" in face && face.isPictured
          ? await deps.records.getPictures(request.params.id, holderOf(response).client)
          : [];
      const body = await draw(face, stored, pictures);
      response.type(face.mediaType).send(typeof body === "string" ? body : Buffer.from(body));
    })
    .all(allowMethods("GET"));

  router
    .route("/submissions/:id/report/signature")
    .get(needs("read"), async (request, response) => {
      const stored = await findReport(deps, request.params.id, response);
      response.set("Cache-Control", "private, no-cache").json(signatureBody(stored));
    })
    .all(allowMethods("GET"));

  return router;
}

async function findReport({ records }: AppDeps, id: string, response: Response): Promise<StoredReport> {
  const record = await findSubmission(records, id, response);
  const stored = await records.getReport(record.id, holderOf(response).client);
  if (!stored) throw whyNoReport(record);
  return stored;
}

/** A report never changes, so its digest is a strong tag; each face of it is another representation with its own. */
function entityTag(digest: string, face: Form): string {
  return face === JSON_FACE ? `"${digest}"` : `"${digest}-${face.name}"`;
}

function draw(face: Form, { json, digest }: StoredReport, pictures: readonly SpotPicture[]) {
  return "render" in face ? face.render(JSON.parse(json) as Report, digest, pictures) : json;
}

/** By ?format= where a link says it, else by the Accept header. */
function chooseFace(request: Request, forms: readonly Form[]): Form {
  const { format } = request.query;
  if (format !== undefined) {
    const named = forms.find(({ name }) => name === format);
    if (named) return named;
    const detail = `must be one of ${forms.map(({ name }) => name).join(", ")}`;
    throw new Problem("parameter-invalid", { errors: [{ pointer: "format", detail }] });
  }
  const mediaTypes = forms.map(({ mediaType }) => mediaType);
  const accepted = request.accepts(mediaTypes);
  const chosen = forms.find(({ mediaType }) => mediaType === accepted);
  if (chosen) return chosen;
  throw new Problem("not-acceptable", { detail: `Reports are given as ${mediaTypes.join(", ")}.` });
}

export function whyNoReport(record: SubmissionRecord): Problem {
  if (record.failure) return new Problem("submission-failed", { detail: record.failure.message });
  return new Problem("report-not-ready", { headers: { "Retry-After": "1" } });
}
