import type { Request } from "express";
import type { z } from "zod";
import { Problem } from "../problems.js";

/** The query parameters as the schema wants them; unknown names are refused, for a misspelt filter would filter nothing. */
export function readQuery<Schema extends z.ZodObject>(request: Request, schema: Schema): z.output<Schema> {
  const parsed = schema.safeParse(request.query);
  if (parsed.success) return parsed.data;
  const names = Object.keys(schema.shape).join(", ");
  const errors = parsed.error.issues.flatMap((issue) => {
    if (issue.code === "unrecognized_keys") {
      return issue.keys.map((key) => ({ pointer: key, detail: `is not a parameter here; there are ${names}` }));
    }
    const name = issue.path.join(".");
    // A number that is not there was tried to be read as one, which its sender did not ask for.
    return [{ pointer: name, detail: request.query[name] === undefined ? "is missing" : issue.message }];
  });
  throw new Problem("parameter-invalid", { errors });
}
