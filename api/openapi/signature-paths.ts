import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { signatureSchema, signingKeySchema, signingKeySetSchema } from "../responses/signature-body.js";
import { KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";
import { idParameter } from "./submission-paths.js";

export function signaturePaths(): ZodOpenApiPathsObject {
  return {
    "/v1/submissions/{id}/report/signature": {
      get: {
        operationId: "readSignature",
        ...needsScope("read"),
        summary: "The report's detached signature, for heatgate verify",
        tags: ["Signatures"],
        requestParams: { path: z.object({ id: idParameter }) },
        responses: {
          "200": { description: "The signature", content: { "application/json": { schema: signatureSchema } } },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "submission-unknown", "report-not-ready", "submission-failed"),
        },
      },
    },
    "/.well-known/jwks.json": {
      get: {
        operationId: "listSigningKeys",
        summary: "The public keys that reports are and were signed with",
        tags: ["Signatures"],
        security: [],
        responses: {
          "200": { description: "The keys", content: { "application/json": { schema: signingKeySetSchema } } },
          ...UNCHANGED,
          ...refusals(),
        },
      },
    },
    "/v1/signing-keys": {
      post: {
        operationId: "rotateSigningKey",
        summary: "Make a new key that signs reports from now on; older signatures stay good",
        tags: ["Signatures"],
        ...needsScope("operate"),
        responses: {
          "201": { description: "The new key", content: { "application/json": { schema: signingKeySchema } } },
          ...refusals(...KEY_REFUSALS),
        },
      },
    },
    "/v1/signing-keys/{keyId}": {
      delete: {
        operationId: "revokeSigningKey",
        summary: "Say that a key is not to be trusted any more; where it was in use, a new one takes over",
        tags: ["Signatures"],
        ...needsScope("operate"),
        requestParams: { path: z.object({ keyId: z.string() }) },
        responses: {
          "204": { description: "Revoked" },
          ...refusals(...KEY_REFUSALS, "signing-key-unknown"),
        },
      },
    },
  };
}
