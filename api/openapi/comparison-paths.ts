import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { newComparisonSchema } from "../requests/new-comparison.js";
import { comparisonSchema } from "../responses/comparison-body.js";
import { historySchema } from "../responses/history-body.js";
import { historyQuerySchema } from "../routes/heat-history.js";
import { JSON_BODY_REFUSALS, KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";

const page = { "text/html": { schema: z.string().meta({ description: "A page with pictures (SVG) and tables" }) } };

export function comparisonPaths(): ZodOpenApiPathsObject {
  return {
    "/v1/comparisons": {
      post: {
        operationId: "compareHeats",
        ...needsScope("read"),
        summary: "Heats of stored reports side by side at the service temperature; nothing is kept",
        tags: ["Heats"],
        requestBody: { required: true, content: { "application/json": { schema: newComparisonSchema } } },
        responses: {
          "200": {
            description: "What each material does there, and who leads on what",
            content: { "application/json": { schema: comparisonSchema }, ...page },
          },
          ...refusals(
            ...KEY_REFUSALS,
            ...JSON_BODY_REFUSALS,
            "comparison-invalid",
            "submission-unknown",
            "report-not-ready",
            "submission-failed",
            "heat-unknown",
            "requirement-unknown",
            "requirement-archived",
            "not-acceptable",
          ),
        },
      },
    },
    "/v1/heat-history": {
      get: {
        operationId: "readHeatHistory",
        ...needsScope("read"),
        summary: "Carbon, Rp0.2 and impact energy over time for each mill and grade, with control limits",
        tags: ["Heats"],
        requestParams: { query: historyQuerySchema },
        responses: {
          "200": {
            description: "One series for each mill, grade, property and kind of test",
            content: { "application/json": { schema: historySchema }, ...page },
          },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "parameter-invalid", "not-acceptable"),
        },
      },
    },
  };
}
