import { z } from "zod";
import type { ZodOpenApiOperationObject, ZodOpenApiPathsObject } from "zod-openapi";
import type { ProblemCode } from "../problems.js";
import { endpointChangeSchema, newEndpointSchema, newSecretSchema, replaySchema } from "../requests/endpoint.js";
import {
  endpointSchema,
  endpointsSchema,
  endpointWithSecretSchema,
  replayedSchema,
  testedSchema,
} from "../responses/endpoint-body.js";
import { deliveryPageSchema } from "../responses/event-body.js";
import { deliveriesQuerySchema } from "../routes/endpoints.js";
import { JSON_BODY_REFUSALS, KEY_REFUSALS, refusals, UNCHANGED } from "./answers.js";
import { needsScope } from "./security.js";

const TAGS = { tags: ["Endpoints"], ...needsScope("admin") };
const path = z.object({ id: z.string().meta({ description: "From POST /v1/endpoints" }) });
const BODY_REFUSALS = [...JSON_BODY_REFUSALS, "endpoint-invalid"] as const;

const json = (description: string, schema: z.ZodType) => ({ description, content: { "application/json": { schema } } });
const body = (schema: z.ZodType, required = true) => ({
  requestBody: { required, content: { "application/json": { schema } } },
});
const ofOne = (...codes: readonly ProblemCode[]) => refusals(...KEY_REFUSALS, "endpoint-unknown", ...codes);

export function endpointPaths(): ZodOpenApiPathsObject {
  return {
    "/v1/endpoints": {
      get: {
        operationId: "listEndpoints",
        ...TAGS,
        summary: "The client's registered receivers",
        responses: { "200": json("The endpoints", endpointsSchema), ...UNCHANGED, ...refusals(...KEY_REFUSALS) },
      },
      post: {
        operationId: "createEndpoint",
        ...TAGS,
        summary: "Register a receiver for everything that happens, or for some types of event; its secret is told once",
        ...body(newEndpointSchema),
        responses: {
          "201": {
            ...json("Registered", endpointWithSecretSchema),
            headers: z.object({ Location: z.string() }),
          },
          ...refusals(...KEY_REFUSALS, ...BODY_REFUSALS, "callback-refused", "too-many-endpoints"),
        },
      },
    },
    "/v1/endpoints/{id}": {
      get: {
        operationId: "readEndpoint",
        ...TAGS,
        summary: "One receiver, with what signs now and whether it takes what is sent",
        requestParams: { path },
        responses: { "200": json("The endpoint", endpointSchema), ...UNCHANGED, ...ofOne() },
      },
      patch: {
        operationId: "changeEndpoint",
        ...TAGS,
        summary: "Change what is named; state active takes a disabled one into service again",
        requestParams: { path },
        ...body(endpointChangeSchema),
        responses: { "200": json("As it is now", endpointSchema), ...ofOne(...BODY_REFUSALS, "callback-refused") },
      },
      delete: {
        operationId: "deleteEndpoint",
        ...TAGS,
        summary: "Send nothing there any more, and forget its deliveries",
        requestParams: { path },
        responses: { "204": { description: "Deleted" }, ...ofOne() },
      },
    },
    "/v1/endpoints/{id}/secrets": { post: rotate },
    "/v1/endpoints/{id}/test": {
      post: {
        operationId: "testEndpoint",
        ...TAGS,
        summary: "Send an event of type endpoint.test there, signed like any other",
        requestParams: { path },
        responses: { "202": json("It will be sent", testedSchema), ...ofOne("endpoint-disabled") },
      },
    },
    "/v1/endpoints/{id}/replay": { post: replay },
    "/v1/endpoints/{id}/deliveries": {
      get: {
        operationId: "listEndpointDeliveries",
        ...TAGS,
        summary: "What was sent there and what came of it, try by try, newest first",
        requestParams: { path, query: deliveriesQuerySchema },
        responses: {
          "200": json("One page", deliveryPageSchema),
          ...UNCHANGED,
          ...ofOne("parameter-invalid", "cursor-unknown"),
        },
      },
    },
  };
}

const rotate: ZodOpenApiOperationObject = {
  operationId: "rotateEndpointSecret",
  ...TAGS,
  summary:
    "Give it another secret; those until now sign on beside it for a while, so that nothing is refused meanwhile",
  requestParams: { path },
  ...body(newSecretSchema, false),
  responses: {
    "201": json("With the new secret", endpointWithSecretSchema),
    ...ofOne(...BODY_REFUSALS, "too-many-secrets"),
  },
};

const replay: ZodOpenApiOperationObject = {
  operationId: "replayEvents",
  ...TAGS,
  summary: "Send again what happened since a time, with the same ids, and what the endpoint never had",
  requestParams: { path },
  ...body(replaySchema),
  responses: {
    "202": json("They will be sent", replayedSchema),
    ...ofOne(...BODY_REFUSALS, "endpoint-disabled"),
  },
};
