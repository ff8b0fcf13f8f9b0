import { z } from "zod";

export const newErasureSchema = z.strictObject({
  person: z.string().trim().min(1).max(120).meta({ description: "Who answers for it", example: "M. Aurland" }),
  reason: z.string().trim().min(1).max(2_000).meta({ description: "Kept for good, as is the person's name" }),
  reference: z
    .string()
    .trim()
    .max(200)
    .optional()
    .meta({ description: "Request, contract, case", example: "DSR 2026-07" }),
});
