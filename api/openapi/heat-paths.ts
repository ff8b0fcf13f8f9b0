import type { ZodOpenApiPathsObject } from "zod-openapi";
import { heatsSchema } from "../responses/heat-body.js";
import { heatsQuerySchema } from "../routes/heats.js";
import { KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";

export function heatPaths(): ZodOpenApiPathsObject {
  return {
    "/v1/heats": {
      get: {
        operationId: "listHeats",
        ...needsScope("read"),
        summary: "Heats across submissions, newest first",
        tags: ["Heats"],
        requestParams: { query: heatsQuerySchema },
        responses: {
          "200": { description: "One page", content: { "application/json": { schema: heatsSchema } } },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "parameter-invalid", "cursor-unknown"),
        },
      },
    },
  };
}
