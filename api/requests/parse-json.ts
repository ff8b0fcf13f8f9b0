import type { z } from "zod";
import { REPEATED, repeatedName } from "../../worker/store/repeated-name.js";
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
  refuseRepeated(text, what);
  return checkJson(value, schema, what, refusal);
}

/** Of one name that stands twice the parser drops the first without a word. What is no JSON at all is left to the parser to refuse. */
export function refuseRepeated(text: string, what: string): void {
  const repeated = isJson(text) ? repeatedName(text) : undefined;
  if (!repeated) return;
  const errors = [{ pointer: pointerTo(repeated), detail: REPEATED }];
  throw new Problem("json-broken", { detail: `${what} has a name twice in one object.`, errors });
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

export function checkJson<Schema extends z.ZodType>(
  value: unknown,
  schema: Schema,
  what: string,
  refusal: ProblemCode,
): z.output<Schema> {
  const broken = unfitParts(value);
  if (broken.length > 0) throw new Problem(refusal, { detail: `${what} says what cannot be kept.`, errors: broken });
  const parsed = schema.safeParse(value, { error: ({ input }) => (input === undefined ? "is missing" : undefined) });
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

interface Place {
  readonly value: unknown;
  readonly path: readonly PropertyKey[];
}

/**
 * JSON can say what is no text: U+0000 and halves of surrogate pairs (RFC 8259, 8.2). PostgreSQL keeps neither, and nobody's name or
 * reason has them. The name "__proto__" is passed over by the library that checks, without a word. Not by recursion: what was sent may be
 * nested deeper than the stack.
 */
function unfitParts(value: unknown): ProblemError[] {
  const errors: ProblemError[] = [];
  const open: Place[] = [{ value, path: [] }];
  for (let place = open.pop(); place !== undefined; place = open.pop()) {
    const { value: here, path } = place;
    if (typeof here === "string" && isBroken(here)) errors.push({ pointer: pointerTo(path), detail: BROKEN });
    if (typeof here !== "object" || here === null || path.length === DEEPEST) continue;
    for (const [key, inner] of Object.entries(here)) {
      if (key === "__proto__") errors.push({ pointer: pointerTo([...path, key]), detail: "is not a known name here" });
      else if (isBroken(key)) errors.push({ pointer: pointerTo(path), detail: BROKEN });
      else open.push({ value: inner, path: [...path, key] });
    }
  }
  return errors;
}

const BROKEN = "has U+0000 or half of a surrogate pair";

/** Far deeper than anything that is asked for, and refused by every schema. */
const DEEPEST = 64;

function isBroken(text: string): boolean {
  return text.includes("\0") || /\p{Surrogate}/u.test(text);
}

/** RFC 6901. */
export function pointerTo(path: readonly PropertyKey[]): string {
  return path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}
