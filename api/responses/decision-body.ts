import { z } from "zod";
import { ACTIONS, type Decision } from "../../worker/store/decisions.js";
import { outcomeSchema } from "./report-schema.js";

export const decisionSchema = z
  .strictObject({
    id: z.string(),
    submission: z.string(),
    heat: z.string(),
    action: z.enum(ACTIONS),
    person: z.string(),
    reason: z.string(),
    reference: z.string().exactOptional(),
    verdict: outcomeSchema.meta({ description: "The heat's verdict when it was decided" }),
    createdAt: z.iso.datetime(),
  })
  .meta({ id: "Decision" });

export const decisionsSchema = z.strictObject({ items: z.array(decisionSchema) });

export function decisionBody({ createdAt, ...decision }: Decision): z.infer<typeof decisionSchema> {
  return { ...decision, createdAt: createdAt.toISOString() };
}
