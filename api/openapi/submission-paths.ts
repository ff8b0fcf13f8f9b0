import { z } from "zod";
import type { ZodOpenApiOperationObject, ZodOpenApiPathsObject } from "zod-openapi";
import { requirementSchema } from "../../core/requirement/requirement.js";
import type { Face } from "../deps.js";
import { callbackSchema } from "../requests/callback.js";
import { listQuerySchema } from "../requests/list-query.js";
import { newErasureSchema } from "../requests/new-erasure.js";
import { slugSchema } from "../requests/requirement-reference.js";
import { submitQuerySchema } from "../requests/submit-query.js";
import { tagsSchema } from "../requests/tags.js";
import { erasureSchema } from "../responses/erasure-body.js";
import { reportSchema } from "../responses/report-schema.js";
import { acceptedSchema, submissionSchema, submissionsSchema } from "../responses/submission-body.js";
import { JSON_BODY_REFUSALS, KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";

export const idParameter = z.string().meta({ description: "From the Location header of POST /v1/submissions" });
const waitHeader = z.string().optional().meta({
  description: "RFC 7240: `wait=20` waits up to that many seconds, at most 25, for the work to be finished.",
  example: "wait=20",
});
const bytes = { type: "string", format: "binary" } as const;

const formSchema = z.object({
  document: z
    .array(z.string().meta({ override: bytes }))
    .min(1)
    .meta({
      description: "A file with its name; one part for each document, all judged together",
    }),
  requirement: z.union([requirementSchema, slugSchema]).optional().meta({
    description: "JSON, or the name of a stored one. Left out: each certificate is held to the grades it claims",
  }),
  callback: callbackSchema
    .optional()
    .meta({ description: "Where to tell of the result. A secret is made where none is given" }),
  tags: tagsSchema.optional().meta({
    description: "JSON. A plain form may send parts named tag.order, tag.item, tag.supplier instead",
    example: { order: "4500012", item: "10", supplier: "Norrvik Steel" },
  }),
});

const earlierHeaders = {
  "Idempotency-Replayed": z.literal("true").optional().meta({
    description: "A request with this Idempotency-Key came before; this is the submission that it made",
  }),
  "Heatgate-Duplicate": z.literal("true").optional().meta({
    description: "The same was handed in within 24 hours; this is the submission that is there",
  }),
};

const submit: ZodOpenApiOperationObject = {
  operationId: "submit",
  ...needsScope("submit"),
  summary: "Hand in one document as the body, or several as multipart parts or in a ZIP archive, with a requirement",
  tags: ["Submissions"],
  requestParams: {
    header: z.object({
      Prefer: waitHeader,
      "Idempotency-Key": z
        .string()
        .optional()
        .meta({
          description:
            "Your own name for this submission. Sent again within 24 hours with the same content it is answered with the " +
            "same submission (Idempotency-Replayed: true), so a request whose answer was lost can be repeated.",
          example: '"b1946ac9-2d5a-4f3e-9d0a-6f1f3a5f8c11"',
        }),
      "Content-Disposition": z
        .string()
        .optional()
        .meta({ description: "Names a document that is the body", example: 'attachment; filename="H4471.csv"' }),
    }),
    query: submitQuerySchema,
  },
  requestBody: {
    required: true,
    content: {
      "multipart/form-data": { schema: formSchema },
      "application/octet-stream": { schema: bytes },
      "text/csv": { schema: bytes },
      "application/json": { schema: {} },
      "application/pdf": { schema: bytes },
      "application/zip": { schema: bytes },
      "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": { schema: bytes },
    },
  },
  responses: {
    "200": {
      description: "Finished, while the sender waited or before; with the report when the state is done",
      headers: z.object({ Location: z.string(), "Preference-Applied": z.string().optional(), ...earlierHeaders }),
      content: { "application/json": { schema: acceptedSchema } },
    },
    "202": {
      description: "Kept for good, and being worked on",
      headers: z.object({ Location: z.string(), "Retry-After": z.string(), ...earlierHeaders }),
      content: { "application/json": { schema: acceptedSchema } },
    },
    ...refusals(
      ...KEY_REFUSALS,
      "document-missing",
      "document-empty",
      "document-too-large",
      "request-too-large",
      "too-many-documents",
      "type-not-read",
      "type-not-as-declared",
      "archive-refused",
      "json-broken",
      "multipart-broken",
      "part-unknown",
      "parameter-invalid",
      "requirement-invalid",
      "requirement-unknown",
      "requirement-archived",
      "callback-invalid",
      "callback-refused",
      "tags-invalid",
      "idempotency-key-in-use",
      "idempotency-key-reused",
      "submission-erased",
      "request-aborted",
      "store-unavailable",
      "queue-full",
    ),
  },
};

const list: ZodOpenApiOperationObject = {
  operationId: "listSubmissions",
  ...needsScope("read"),
  summary: "Submissions, newest first; pages stay stable while new ones arrive",
  tags: ["Submissions"],
  requestParams: { query: listQuerySchema },
  responses: {
    "200": { description: "One page", content: { "application/json": { schema: submissionsSchema } } },
    ...UNCHANGED,
    ...refusals(...KEY_REFUSALS, "parameter-invalid", "cursor-unknown"),
  },
};

const read: ZodOpenApiOperationObject = {
  operationId: "readSubmission",
  ...needsScope("read"),
  summary: "How far a submission is, and its verdict per heat once it is done",
  tags: ["Submissions"],
  requestParams: { path: z.object({ id: idParameter }), header: z.object({ Prefer: waitHeader }) },
  responses: {
    "200": { description: "The submission", content: { "application/json": { schema: submissionSchema } } },
    ...UNCHANGED,
    ...refusals(...KEY_REFUSALS, "submission-unknown"),
  },
};

const faceSchema = (mediaType: string) => (mediaType.endsWith("json") ? {} : ({ type: "string" } as const));

const readReport = (faces: readonly Face[]): ZodOpenApiOperationObject => ({
  operationId: "readReport",
  ...needsScope("read"),
  summary: "The report, in the form that the Accept header asks for",
  tags: ["Submissions"],
  requestParams: {
    path: z.object({ id: idParameter }),
    query: z.object({
      format: z
        .enum(["json", ...faces.map(({ name }) => name)])
        .optional()
        .meta({ description: "Instead of an Accept header, for links" }),
    }),
  },
  responses: {
    "200": {
      description: "The report. As JSON its ETag is the SHA-256 of its bytes; it never changes",
      headers: z.object({
        ETag: z.string(),
        "Heatgate-Signature": z.string().optional().meta({
          description: "With the JSON: what …/report/signature says, as structured fields (RFC 9651)",
          example: 'sig=:<base64>:, keyid="<kid>", alg="ed25519"',
        }),
      }),
      content: {
        "application/json": { schema: reportSchema },
        ...Object.fromEntries(faces.map(({ mediaType }) => [mediaType, { schema: faceSchema(mediaType) }])),
      },
    },
    "304": { description: "The ETag in If-None-Match is that of the report" },
    ...refusals(
      ...KEY_REFUSALS,
      "submission-unknown",
      "report-not-ready",
      "submission-failed",
      "not-acceptable",
      "parameter-invalid",
    ),
  },
});

const readDocument: ZodOpenApiOperationObject = {
  operationId: "readDocument",
  ...needsScope("read"),
  summary: "A document as it was received, byte for byte",
  tags: ["Submissions"],
  requestParams: { path: z.object({ id: idParameter, sha256: z.string() }) },
  responses: {
    "200": { description: "Its bytes", content: { "application/octet-stream": { schema: bytes } } },
    "304": { description: "The sender has it already" },
    ...refusals(...KEY_REFUSALS, "submission-unknown", "document-unknown", "document-erased"),
  },
};

const readErasure: ZodOpenApiOperationObject = {
  operationId: "readErasure",
  ...needsScope("read"),
  summary: "What is left of an erased submission",
  tags: ["Submissions"],
  requestParams: { path: z.object({ id: idParameter }) },
  responses: {
    "200": { description: "It was erased", content: { "application/json": { schema: erasureSchema } } },
    "304": { description: "The sender has it already" },
    ...refusals(...KEY_REFUSALS, "submission-unknown", "erasure-unknown"),
  },
};

const erase: ZodOpenApiOperationObject = {
  operationId: "erase",
  ...needsScope("admin"),
  summary: "Erase a submission for good, finished or not, and with it those that correct it",
  description:
    "Documents (unless another submission has the same), report, readings, pictures, decisions, events and deliveries are gone " +
    "afterwards, and every path of the submission answers 410. The audit trail keeps its entries: digests, verdicts, corrections, " +
    "decisions, and who erased it and why. Reports of other submissions that quote its values stay as they were signed.",
  tags: ["Submissions"],
  requestParams: { path: z.object({ id: idParameter }) },
  requestBody: { required: true, content: { "application/json": { schema: newErasureSchema } } },
  responses: {
    "200": { description: "It is erased", content: { "application/json": { schema: erasureSchema } } },
    ...refusals(...KEY_REFUSALS, "submission-unknown", "erasure-invalid", ...JSON_BODY_REFUSALS),
  },
};

export function submissionPaths(faces: readonly Face[]): ZodOpenApiPathsObject {
  return {
    "/v1/submissions": { post: submit, get: list },
    "/v1/submissions/{id}": { get: read },
    "/v1/submissions/{id}/report": { get: readReport(faces) },
    "/v1/submissions/{id}/documents/{sha256}": { get: readDocument },
    "/v1/submissions/{id}/erasure": { get: readErasure, post: erase },
  };
}
