import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { correctionsSchema } from "../../core/certificate/corrections.js";
import { newDecisionSchema } from "../requests/new-decision.js";
import { auditSchema } from "../responses/audit-body.js";
import { decisionSchema, decisionsSchema } from "../responses/decision-body.js";
import { submissionSchema } from "../responses/submission-body.js";
import { eventsQuerySchema } from "../routes/events.js";
import { JSON_BODY_REFUSALS, KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";
import { idParameter } from "./submission-paths.js";

export function decisionPaths(): ZodOpenApiPathsObject {
  const path = z.object({ id: idParameter });
  return {
    "/v1/submissions/{id}/decisions": {
      get: {
        operationId: "listDecisions",
        ...needsScope("read"),
        summary: "What people decided about the heats of a submission, oldest first",
        tags: ["Decisions"],
        requestParams: { path },
        responses: {
          "200": { description: "The decisions", content: { "application/json": { schema: decisionsSchema } } },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "submission-unknown"),
        },
      },
      post: {
        operationId: "decide",
        ...needsScope("decide"),
        summary: "Write down what a named person decided about a heat; decisions are added to and never changed",
        tags: ["Decisions"],
        requestParams: { path },
        requestBody: { required: true, content: { "application/json": { schema: newDecisionSchema } } },
        responses: {
          "201": { description: "Written down", content: { "application/json": { schema: decisionSchema } } },
          ...refusals(...KEY_REFUSALS, "submission-unknown", "heat-unknown", "decision-invalid", ...JSON_BODY_REFUSALS),
        },
      },
    },
    "/v1/submissions/{id}/corrections": {
      post: {
        operationId: "correct",
        ...needsScope("decide"),
        summary:
          "Confirm or correct what was read, as a named person who looked at the document; judged as a submission of its own",
        tags: ["Decisions"],
        requestParams: { path },
        requestBody: { required: true, content: { "application/json": { schema: correctionsSchema } } },
        responses: {
          "202": {
            description: "The corrected submission; the first and its report stay as they are",
            headers: z.object({ Location: z.string(), "Retry-After": z.string() }),
            content: { "application/json": { schema: submissionSchema } },
          },
          ...refusals(
            ...KEY_REFUSALS,
            "submission-unknown",
            "report-not-ready",
            "corrections-invalid",
            "corrected-already",
            "document-erased",
            ...JSON_BODY_REFUSALS,
          ),
        },
      },
    },
    "/v1/audit": {
      get: {
        operationId: "listAudit",
        ...needsScope("read"),
        summary:
          "The client's audit trail: results, decisions, requirements and keys, each entry tied to the one before",
        tags: ["Decisions"],
        requestParams: { query: eventsQuerySchema },
        responses: {
          "200": {
            description: "Entries after the given one",
            content: { "application/json": { schema: auditSchema } },
          },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "parameter-invalid"),
        },
      },
    },
  };
}
