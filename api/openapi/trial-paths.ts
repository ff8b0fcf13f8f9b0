import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { newDryRunSchema } from "../requests/new-dry-run.js";
import { dryRunSchema, gradesMetSchema } from "../responses/trial-body.js";
import { JSON_BODY_REFUSALS, KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";

const path = z.object({ id: z.string() });
const Prefer = z
  .string()
  .optional()
  .meta({ description: "wait=<seconds>, at most 25; 10 where it is left out", example: "wait=20" });
const dryRun = { content: { "application/json": { schema: dryRunSchema } } };
const TRIAL_REFUSALS = [...KEY_REFUSALS, "submission-unknown", "trial-failed"] as const;
const NO_REPORT = ["report-not-ready", "submission-failed"] as const;

export function trialPaths(): ZodOpenApiPathsObject {
  return {
    "/v1/submissions/{id}/dry-runs": {
      post: {
        operationId: "tryRequirement",
        ...needsScope("read"),
        summary: "See what another requirement would change about a judged submission, which stays as it is",
        tags: ["Requirements"],
        requestParams: { path, header: z.object({ Prefer }) },
        requestBody: { required: true, content: { "application/json": { schema: newDryRunSchema } } },
        responses: {
          "200": { description: "Verdicts before and after, and the findings that differ", ...dryRun },
          "202": { description: "Not answered within the wait; ask at Location", ...dryRun },
          ...refusals(
            ...TRIAL_REFUSALS,
            ...NO_REPORT,
            "dry-run-invalid",
            "requirement-invalid",
            "heat-unknown",
            "requirement-unknown",
            "requirement-archived",
            ...JSON_BODY_REFUSALS,
          ),
        },
      },
    },
    "/v1/submissions/{id}/dry-runs/{dryRun}": {
      get: {
        operationId: "readDryRun",
        ...needsScope("read"),
        summary: "The answer of a dry run; it is kept for a week, or as long as the operator says",
        tags: ["Requirements"],
        requestParams: { path: path.extend({ dryRun: z.string() }), header: z.object({ Prefer }) },
        responses: {
          "200": { description: "The answer", ...dryRun },
          "202": { description: "Not answered within the wait", ...dryRun },
          ...UNCHANGED,
          ...refusals(...TRIAL_REFUSALS, "dry-run-unknown"),
        },
      },
    },
    "/v1/submissions/{id}/grades": {
      get: {
        operationId: "listGradesMet",
        ...needsScope("read"),
        summary: "Which grades of the library each heat meets, and what keeps it from others",
        tags: ["Grades"],
        requestParams: { path, header: z.object({ Prefer }) },
        responses: {
          "200": {
            description: "By heat",
            content: {
              "application/json": { schema: gradesMetSchema },
              "text/html": { schema: z.string().meta({ description: "A page of tables" }) },
            },
          },
          ...UNCHANGED,
          ...refusals(...TRIAL_REFUSALS, ...NO_REPORT, "trial-not-ready", "not-acceptable"),
        },
      },
    },
  };
}
