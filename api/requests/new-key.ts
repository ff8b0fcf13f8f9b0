import { z } from "zod";
import { SCOPES } from "../../worker/store/keys.js";

export const newKeySchema = z.strictObject({
  client: z
    .string()
    .trim()
    .min(1)
    .max(100)
    .meta({ description: "Whose key; what it hands in is seen by this client's keys only" }),
  name: z.string().trim().min(1).max(100).meta({ description: "The holder's name for it", example: "ERP production" }),
  scopes: z
    .array(z.enum(SCOPES))
    .min(1)
    .refine((scopes) => new Set(scopes).size === scopes.length, "names a scope twice"),
  expiresAt: z.iso.datetime({ offset: true }).optional(),
});
