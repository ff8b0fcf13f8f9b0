import type { Request } from "express";
import type { z } from "zod";
import { Problem } from "../problems.js";

/** The query parameters as the schema wants them; unknown names are refused, for a misspelt filter would filter nothing. */
export function readQuery<Schema extends z.ZodObject>(request: Request, schema: Schema): z.output<Schema> {
  const parsed = schema.safeParse(request.query);
  if (parsed.success) return parsed.data;
  const errors = parsed.error.issues.flatMap((issue) =>
    issue.code === "unrecognized_keys"
      ? issue.keys.map((key) => ({ pointer: key, detail: "is not a parameter here" }))
      : [{ pointer: issue.path.join("."), detail: issue.message }],
  );
  throw new Problem("parameter-invalid", { errors });
}
