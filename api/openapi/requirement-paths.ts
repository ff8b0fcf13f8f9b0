import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { requirementSchema } from "../../core/requirement/requirement.js";
import { slugSchema } from "../requests/requirement-reference.js";
import { differencesSchema, requirementsSchema, storedRequirementSchema } from "../responses/requirement-body.js";
import { differenceQuerySchema, requirementsQuerySchema } from "../routes/requirements.js";
import { JSON_BODY_REFUSALS, KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";

const path = z.object({ slug: slugSchema });
const stored = { content: { "application/json": { schema: storedRequirementSchema } } };
const several = { content: { "application/json": { schema: requirementsSchema } } };

export function requirementPaths(): ZodOpenApiPathsObject {
  return {
    "/v1/requirements": {
      get: {
        operationId: "listRequirements",
        ...needsScope("read"),
        summary: "Stored requirements, each in its newest version",
        tags: ["Requirements"],
        requestParams: { query: requirementsQuerySchema },
        responses: {
          "200": { description: "By slug", ...several },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "parameter-invalid"),
        },
      },
    },
    "/v1/requirements/{slug}": {
      get: {
        operationId: "readRequirement",
        ...needsScope("read"),
        summary: "A stored requirement in its newest version",
        tags: ["Requirements"],
        requestParams: { path },
        responses: {
          "200": { description: "The newest version", ...stored },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "requirement-unknown"),
        },
      },
      put: {
        operationId: "putRequirement",
        ...needsScope("decide"),
        summary: "Store a requirement; where there is one already this adds a version, and the older ones stay",
        tags: ["Requirements"],
        requestParams: {
          path,
          header: z.object({
            "If-Match": z.string().optional().meta({ description: "Only over this version", example: '"3"' }),
          }),
        },
        requestBody: { required: true, content: { "application/json": { schema: requirementSchema } } },
        responses: {
          "200": { description: "It is the newest version already", ...stored },
          "201": { description: "A new version", ...stored },
          ...refusals(
            ...KEY_REFUSALS,
            "parameter-invalid",
            "requirement-invalid",
            "requirement-archived",
            "version-outdated",
            ...JSON_BODY_REFUSALS,
          ),
        },
      },
      delete: {
        operationId: "archiveRequirement",
        ...needsScope("decide"),
        summary: "Archive a requirement: it is neither listed nor chosen any more, and every version stays to be read",
        tags: ["Requirements"],
        requestParams: { path },
        responses: {
          "200": { description: "It is archived", ...stored },
          ...refusals(...KEY_REFUSALS, "requirement-unknown"),
        },
      },
    },
    "/v1/requirements/{slug}/restore": {
      post: {
        operationId: "restoreRequirement",
        ...needsScope("decide"),
        summary: "Bring an archived requirement back",
        tags: ["Requirements"],
        requestParams: { path },
        responses: {
          "200": { description: "It can be chosen", ...stored },
          ...refusals(...KEY_REFUSALS, "requirement-unknown"),
        },
      },
    },
    "/v1/requirements/{slug}/versions": {
      get: {
        operationId: "listRequirementVersions",
        ...needsScope("read"),
        summary: "All versions, newest first",
        tags: ["Requirements"],
        requestParams: { path },
        responses: {
          "200": { description: "The versions", ...several },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "requirement-unknown"),
        },
      },
    },
    "/v1/requirements/{slug}/versions/{version}": {
      get: {
        operationId: "readRequirementVersion",
        ...needsScope("read"),
        summary: "One version, which never changes",
        tags: ["Requirements"],
        requestParams: { path: path.extend({ version: z.string() }) },
        responses: {
          "200": { description: "The version", ...stored },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "requirement-unknown"),
        },
      },
    },
    "/v1/requirements/{slug}/difference": {
      get: {
        operationId: "compareRequirementVersions",
        ...needsScope("read"),
        summary: "Where two versions differ, by JSON Pointer",
        tags: ["Requirements"],
        requestParams: { path, query: differenceQuerySchema },
        responses: {
          "200": { description: "The differences", content: { "application/json": { schema: differencesSchema } } },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "requirement-unknown", "parameter-invalid"),
        },
      },
    },
  };
}
