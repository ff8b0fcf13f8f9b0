import { z } from "zod";
import type { ZodOpenApiPathsObject } from "zod-openapi";
import { refusals, UNCHANGED } from "./answers.js";

const passSchema = z.strictObject({ status: z.literal("pass") });
const pass = { description: "Yes", content: { "application/json": { schema: passSchema } } };

export function descriptionPaths(): ZodOpenApiPathsObject {
  return {
    "/livez": {
      get: {
        summary: "Does this process answer?",
        tags: ["Health"],
        security: [],
        responses: { "200": pass, ...refusals() },
      },
    },
    "/startupz": {
      get: {
        summary: "Has this process opened its stores?",
        tags: ["Health"],
        security: [],
        responses: { "200": pass, ...refusals() },
      },
    },
    "/readyz": {
      get: {
        summary: "Could a submission be kept now?",
        tags: ["Health"],
        security: [],
        responses: { "200": pass, ...refusals("store-unavailable") },
      },
    },
    "/v1/openapi.json": {
      get: {
        summary: "This document",
        tags: ["Description"],
        security: [],
        responses: {
          "200": { description: "OpenAPI 3.1", content: { "application/json": { schema: {} } } },
          ...UNCHANGED,
          ...refusals(),
        },
      },
    },
    "/problems/{code}": {
      get: {
        summary: "What a problem's type means",
        tags: ["Description"],
        security: [],
        requestParams: { path: z.object({ code: z.string() }) },
        responses: {
          "200": {
            description: "Its title, status and what to do",
            content: {
              "application/json": {
                schema: z.strictObject({
                  type: z.string(),
                  code: z.string(),
                  status: z.int(),
                  title: z.string(),
                  advice: z.string(),
                }),
              },
            },
          },
          ...UNCHANGED,
          ...refusals("path-unknown"),
        },
      },
    },
  };
}
