import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { gradeAnswerSchema, gradesSchema } from "../responses/grade-body.js";
import { gradesQuerySchema } from "../routes/grades.js";
import { KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";

export function gradePaths(): ZodOpenApiPathsObject {
  return {
    "/v1/grades": {
      get: {
        operationId: "listGrades",
        ...needsScope("read"),
        summary: "The grades held, or those that a text is in",
        tags: ["Grades"],
        requestParams: { query: gradesQuerySchema },
        responses: {
          "200": { description: "The grades", content: { "application/json": { schema: gradesSchema } } },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "parameter-invalid"),
        },
      },
    },
    "/v1/grades/{standard}/{edition}/{grade}": {
      get: {
        operationId: "readGrade",
        ...needsScope("read"),
        summary: "A grade in one edition: every limit with its clause, its conditions and how it is known",
        tags: ["Grades"],
        requestParams: { path: z.object({ standard: z.string(), edition: z.string(), grade: z.string() }) },
        responses: {
          "200": { description: "The grade", content: { "application/json": { schema: gradeAnswerSchema } } },
          ...UNCHANGED,
          ...refusals(...KEY_REFUSALS, "grade-unknown"),
        },
      },
    },
  };
}
