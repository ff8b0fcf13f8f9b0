import type { z } from "zod";
import { Problem, type ProblemCode, type ProblemError } from "../problems.js";

/** Text to a checked value; refuses with the parser's words, or with a JSON Pointer for every fault that the schema finds. */
export function parseJson<Schema extends z.ZodType>(
  text: string,
  schema: Schema,
  what: string,
  refusal: ProblemCode,
): z.output<Schema> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    throw new Problem("json-broken", { detail: `${what}: ${(error as Error).message}` });
  }
  return checkJson(value, schema, what, refusal);
}

export function checkJson<Schema extends z.ZodType>(
  value: unknown,
  schema: Schema,
  what: string,
  refusal: ProblemCode,
): z.output<Schema> {
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  const errors = parsed.error.issues.flatMap(errorsOf);
  const detail = `${what} has ${errors.length === 1 ? "one fault" : `${errors.length} faults`}.`;
  throw new Problem(refusal, { detail, errors });
}

/** A name that does not belong is pointed at by itself, so that the reader need not search for it. */
function errorsOf(issue: z.core.$ZodIssue): ProblemError[] {
  if (issue.code !== "unrecognized_keys") return [{ pointer: pointerTo(issue.path), detail: issue.message }];
  return issue.keys.map((key) => ({ pointer: pointerTo([...issue.path, key]), detail: "is not a known name here" }));
}

/** RFC 6901. */
export function pointerTo(path: readonly PropertyKey[]): string {
  return path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}
