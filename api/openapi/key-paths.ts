import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { newKeySchema } from "../requests/new-key.js";
import { keysSchema, newKeyAnswerSchema } from "../responses/key-body.js";
import { JSON_BODY_REFUSALS, KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";

export function keyPaths(): ZodOpenApiPathsObject {
  return {
    "/v1/keys": {
      get: {
        operationId: "listKeys",
        summary: "The client's keys, with the scope operate those of all clients; without the keys themselves",
        tags: ["Keys"],
        ...needsScope("admin"),
        responses: {
          "200": { description: "The keys", content: { "application/json": { schema: keysSchema } } },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS),
        },
      },
      post: {
        operationId: "createKey",
        summary: "Make a key, which may do no more than one's own; its text is told once",
        tags: ["Keys"],
        ...needsScope("admin"),
        requestBody: { required: true, content: { "application/json": { schema: newKeySchema } } },
        responses: {
          "201": { description: "The key", content: { "application/json": { schema: newKeyAnswerSchema } } },
          ...refusals(...KEY_REFUSALS, ...JSON_BODY_REFUSALS, "key-invalid", "too-many-keys"),
        },
      },
    },
    "/v1/keys/{id}": {
      delete: {
        operationId: "revokeKey",
        summary: "Revoke a key; it stops working at once",
        tags: ["Keys"],
        ...needsScope("admin"),
        requestParams: { path: z.object({ id: z.string() }) },
        responses: {
          "204": { description: "Revoked" },
          ...refusals(...KEY_REFUSALS, "key-id-unknown"),
        },
      },
    },
  };
}
