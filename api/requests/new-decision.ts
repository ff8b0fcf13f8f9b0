import { z } from "zod";
import { ACTIONS } from "../../worker/store/decisions.js";

export const newDecisionSchema = z.strictObject({
  heat: z.string().min(1).max(200).meta({ description: "As the report names it" }),
  action: z.enum(ACTIONS).meta({
    description:
      "accept: built in as it is. concession: built in although it does not conform. return: sent back. retest: tested again.",
  }),
  person: z.string().trim().min(1).max(120).meta({ description: "Who decides", example: "M. Aurland" }),
  reason: z.string().trim().min(1).max(2_000),
  reference: z
    .string()
    .trim()
    .max(200)
    .optional()
    .meta({ description: "Concession, return note, test order", example: "NCR 2026-041" }),
});
