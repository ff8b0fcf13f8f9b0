import { z } from "zod";

/** Beside a submission's body. Other names are refused: who misspells `requirement` would be told a pass that nobody asked for. */
export const submitQuerySchema = z.strictObject({
  name: z.string().optional().meta({ description: "Names a document that is the body", example: "H4471.csv" }),
  requirement: z.string().optional().meta({
    description: "Name of a stored requirement, with or without a version, where no part says it",
    example: "t-204-shell-plate@3",
  }),
  tag: z
    .union([z.string(), z.array(z.string()).max(20)])
    .optional()
    .meta({ description: "name:value, for a document that is the body; may be repeated", example: "order:4500012" }),
  again: z
    .enum(["true", "false"])
    .optional()
    .meta({
      description:
        "true: judge anew. Else what was handed in the same within 24 hours, without callback or Idempotency-Key and against the same " +
        "grades, is answered with the submission that is there (Heatgate-Duplicate: true).",
    }),
});
export type SubmitQuery = z.output<typeof submitQuerySchema>;
