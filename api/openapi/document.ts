import { createDocument } from "zod-openapi";
import { unitText } from "../../core/grades/grade.js";
import type { Face } from "../deps.js";
import { comparisonPaths } from "./comparison-paths.js";
import { decisionPaths } from "./decision-paths.js";
import { descriptionPaths } from "./description-paths.js";
import { endpointPaths } from "./endpoint-paths.js";
import { eventPaths } from "./event-paths.js";
import { gradePaths } from "./grade-paths.js";
import { heatPaths } from "./heat-paths.js";
import { keyPaths } from "./key-paths.js";
import { requirementPaths } from "./requirement-paths.js";
import { KEY_SCHEME } from "./security.js";
import { signaturePaths } from "./signature-paths.js";
import { submissionPaths } from "./submission-paths.js";
import { trialPaths } from "./trial-paths.js";
import { webhooks } from "./webhooks.js";

interface DocumentOptions {
  /**
   * Answers have exactly the fields that are known today, which our own tests hold us to. The published document leaves
   * them open, because fields may be added and no generated client should break on one.
   */
  readonly closed: boolean;
}

/** The OpenAPI 3.1 document, made from the schemas that validate what comes in and type what goes out. */
export function openapiDocument(faces: readonly Face[], { closed }: DocumentOptions = { closed: false }) {
  return createDocument(
    {
      openapi: "3.1.0",
      info: {
        title: "Heatgate",
        version: "1.0.0",
        license: { name: "Apache-2.0", identifier: "Apache-2.0" },
        description:
          "Decides, heat by heat, whether delivered metal may be built in: takes mill certificates and mechanical-test " +
          "records, judges them against grade limits and project minimums, and says for every value where it was read " +
          "and for every outcome which clause it was held to. Refusals are problems by RFC 9457 on every path.\n\n" +
          "Every answer to a key says by RateLimit-Policy and RateLimit what the key may send in a minute and what is left of it. " +
          "What can be asked for again later (429, 503, 409 while something is running) says when by Retry-After. Answers to GET " +
          "carry an ETag; sent back as If-None-Match it saves the body.\n\n" +
          "Within /v1 fields and codes may be added and nothing is taken away or changes its meaning; readers pass over " +
          "what they do not know. A path that is to go is marked deprecated here, and answers with a Deprecation and a " +
          "Sunset header for at least twelve months first.\n\n" +
          "Metrics are no part of this API: they tell how much everybody hands in. They are for whoever operates the service, on the port " +
          "that HEATGATE_METRICS_PORT names, which should not be reachable from outside.",
      },
      components: { securitySchemes: { key: KEY_SCHEME } },
      paths: {
        ...submissionPaths(faces),
        ...eventPaths(),
        ...endpointPaths(),
        ...requirementPaths(),
        ...decisionPaths(),
        ...trialPaths(),
        ...heatPaths(),
        ...comparisonPaths(),
        ...gradePaths(),
        ...keyPaths(),
        ...signaturePaths(),
        ...descriptionPaths(),
      },
      webhooks: webhooks(),
    },
    {
      override: ({ zodSchema, jsonSchema, io }) => {
        // A unit is checked by a function of core, which no schema language can say.
        if (zodSchema === unitText) jsonSchema.type = "string";
        if (io === "output" && !closed) delete jsonSchema.additionalProperties;
      },
      allowEmptySchema: { custom: true },
    },
  );
}
