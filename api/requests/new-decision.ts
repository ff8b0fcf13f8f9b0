import { z } from "zod";
import { ACTIONS } from "../../worker/store/decisions.js";
import { whoAndWhy } from "../../worker/store/stated-texts.js";

export const newDecisionSchema = z.strictObject({
  heat: z.string().min(1).max(200).meta({ description: "As the report names it" }),
  action: z.enum(ACTIONS).meta({
    description:
      "accept: built in as it is. concession: built in although it does not conform. return: sent back. retest: tested again.",
  }),
  person: whoAndWhy.person.meta({ description: "Who decides", example: "M. Aurland" }),
  reason: whoAndWhy.reason,
  reference: whoAndWhy.reference
    .optional()
    .meta({ description: "Concession, return note, test order", example: "NCR 2026-041" }),
});
