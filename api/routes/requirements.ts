import { type Request, type Response, Router } from "express";
import { z } from "zod";
import { differences } from "../../core/requirement/difference.js";
import { requirementSchema } from "../../core/requirement/requirement.js";
import type { Requirements, StoredRequirement } from "../../worker/store/requirements.js";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { holderOf, needs } from "../middleware/authenticate.js";
import { jsonBody } from "../middleware/json-body.js";
import { Problem } from "../problems.js";
import { checkJson } from "../requests/parse-json.js";
import { readQuery } from "../requests/query.js";
import { slugSchema } from "../requests/requirement-reference.js";
import { requirementBody, requirementSummary } from "../responses/requirement-body.js";

const versionNumber = z.coerce.number().int().min(1).max(999_999);
export const differenceQuerySchema = z.strictObject({ before: versionNumber, after: versionNumber });

export const requirementsQuerySchema = z.strictObject({
  archived: z.enum(["true", "false"]).optional().meta({ description: "true: those that are archived, instead" }),
});

/** Requirements kept under a name: every change is a new version, and every version stays. */
export function requirementRoutes({ requirements }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/requirements")
    .get(needs("read"), async (request, response) => {
      const { archived } = readQuery(request, requirementsQuerySchema);
      const newest = await requirements.list(holderOf(response).client, archived === "true");
      response.set("Cache-Control", "private, no-cache").json({ items: newest.map(requirementSummary) });
    })
    .all(allowMethods("GET"));

  router
    .route("/requirements/:slug")
    .get(needs("read"), async (request, response) => {
      send(response, await find(requirements, response, request.params.slug));
    })
    .put(needs("decide"), jsonBody("256kb"), async (request, response) => {
      const slug = readSlug(request.params.slug);
      const requirement = checkJson(request.body, requirementSchema, "The requirement", "requirement-invalid");
      const { client, name } = holderOf(response);
      const put = await requirements.put(client, slug, requirement, name, versionToReplace(request));
      if (!put) throw new Problem("version-outdated");
      response.status(put.isNew ? 201 : 200).location(requirementSummary(put.stored).links.self);
      send(response, put.stored);
    })
    .delete(needs("decide"), async (request, response) => {
      const { client, name } = holderOf(response);
      const archived = await requirements.archive(client, request.params.slug, name);
      if (!archived) throw new Problem("requirement-unknown");
      send(response, archived);
    })
    .all(allowMethods("GET", "PUT", "DELETE"));

  router
    .route("/requirements/:slug/restore")
    .post(needs("decide"), async (request, response) => {
      const { client, name } = holderOf(response);
      const restored = await requirements.restore(client, request.params.slug, name);
      if (!restored) throw new Problem("requirement-unknown");
      send(response, restored);
    })
    .all(allowMethods("POST"));

  router
    .route("/requirements/:slug/versions")
    .get(needs("read"), async (request, response) => {
      const versions = await requirements.versions(holderOf(response).client, request.params.slug);
      if (versions.length === 0) throw new Problem("requirement-unknown");
      response.set("Cache-Control", "private, no-cache").json({ items: versions.map(requirementSummary) });
    })
    .all(allowMethods("GET"));

  router
    .route("/requirements/:slug/versions/:version")
    .get(needs("read"), async (request, response) => {
      const version = versionNumber.safeParse(request.params.version).data;
      if (version === undefined) throw new Problem("requirement-unknown");
      send(response, await find(requirements, response, request.params.slug, version));
    })
    .all(allowMethods("GET"));

  router
    .route("/requirements/:slug/difference")
    .get(needs("read"), async (request, response) => {
      const { before, after } = readQuery(request, differenceQuerySchema);
      const { slug } = request.params;
      const [one, other] = await Promise.all(
        [before, after].map((version) => find(requirements, response, slug, version)),
      );
      response.json({ before, after, items: differences(one!.requirement, other!.requirement) });
    })
    .all(allowMethods("GET"));

  return router;
}

async function find(requirements: Requirements, response: Response, slug: string, version?: number) {
  const stored = await requirements.get(holderOf(response).client, slug, version);
  if (!stored) throw new Problem("requirement-unknown");
  return stored;
}

function send(response: Response, stored: StoredRequirement): void {
  response.set({ ETag: `"${stored.version}"`, "Cache-Control": "private, no-cache" }).json(requirementBody(stored));
}

function readSlug(text: string): string {
  const slug = slugSchema.safeParse(text);
  if (slug.success) return slug.data;
  throw new Problem("parameter-invalid", { errors: [{ pointer: "slug", detail: slug.error.issues[0]!.message }] });
}

/** If-Match: "3" puts only over version 3; If-None-Match: * only where there is none. */
function versionToReplace(request: Request): number | undefined {
  if (request.get("If-None-Match") === "*") return 0;
  const match = request.get("If-Match");
  if (match === undefined) return undefined;
  const version = /^"(\d{1,6})"$/.exec(match)?.[1];
  if (version === undefined) throw new Problem("version-outdated");
  return Number(version);
}
