import { z } from "zod";
import { whoAndWhy } from "../../worker/store/stated-texts.js";

export const newErasureSchema = z.strictObject({
  person: whoAndWhy.person.meta({ description: "Who answers for it", example: "M. Aurland" }),
  reason: whoAndWhy.reason.meta({ description: "Kept for good, as is the person's name" }),
  reference: whoAndWhy.reference.optional().meta({ description: "Request, contract, case", example: "DSR 2026-07" }),
});
