import { z } from "zod";
import type { ZodOpenApiResponsesObject } from "zod-openapi";
import { PROBLEMS, type ProblemCode } from "../problems.js";

/** Refusals that any operation can give, whatever it does. */
const ALWAYS: readonly ProblemCode[] = ["path-encoding", "starting", "store-unavailable", "fault"];

const PROBLEM_CODES = Object.keys(PROBLEMS) as [ProblemCode, ...ProblemCode[]];

export const problemSchema = problemOf(PROBLEM_CODES).meta({
  id: "Problem",
  description: "RFC 9457. `code` is the last part of `type`; GET on `type` explains it. Programs should go by `code`.",
});

/** What any operation behind a key can refuse besides. */
export const KEY_REFUSALS = [
  "key-missing",
  "key-unknown",
  "scope-missing",
  "cross-site",
  "quota-exceeded",
  "request-too-large",
] as const;

/** What an operation whose body is JSON can refuse besides. */
export const JSON_BODY_REFUSALS = ["json-broken", "request-too-large", "body-encoding"] as const;

/** To an operation that reads. */
export const UNCHANGED = { "304": { description: "Nothing has changed since the ETag in If-None-Match" } };

/** The refusals of one operation, put together by their status, each naming the codes that it can carry. */
export function refusals(...codes: readonly ProblemCode[]): ZodOpenApiResponsesObject {
  const answers: ZodOpenApiResponsesObject = {};
  const erased: readonly ProblemCode[] = codes.includes("submission-unknown") ? ["submission-erased"] : [];
  const all = [...new Set([...codes, ...erased, ...ALWAYS])];
  for (const status of new Set(all.map((code) => PROBLEMS[code].status))) {
    const ofStatus = all.filter((code) => PROBLEMS[code].status === status);
    answers[`${status}`] = {
      ...(TRY_LATER.includes(status) && { headers: retryAfter }),
      description: ofStatus.map((code) => `${code}: ${PROBLEMS[code].title}.`).join("\n\n"),
      content: {
        "application/problem+json": {
          schema: z.intersection(problemSchema, z.looseObject({ code: z.enum(ofStatus as [ProblemCode]) })),
        },
      },
    };
  }
  return answers;
}

/** Statuses that come with a time to try again at, if not with every code. */
const TRY_LATER: readonly number[] = [409, 429, 503];
const retryAfter = z.object({ "Retry-After": z.string().optional().meta({ description: "Seconds" }) });

function problemOf(codes: [ProblemCode, ...ProblemCode[]]) {
  return z.strictObject({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string().meta({ description: "What happened this time" }),
    advice: z.string().meta({ description: "What to do about it" }),
    code: z.enum(codes),
    errors: z
      .array(z.strictObject({ pointer: z.string(), detail: z.string() }))
      .exactOptional()
      .meta({
        description: "Each fault with a JSON Pointer into what was sent, or the name of a part, header or parameter",
      }),
    requestId: z.string().exactOptional(),
  });
}
