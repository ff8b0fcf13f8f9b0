import { z } from "zod";
import { SCOPES } from "../../worker/store/keys.js";
import { keyNameText } from "../../worker/store/stated-texts.js";

export const newKeySchema = z.strictObject({
  client: keyNameText.meta({ description: "Whose key; what it hands in is seen by this client's keys only" }),
  name: keyNameText.meta({ description: "The holder's name for it", example: "ERP production" }),
  scopes: z
    .array(z.enum(SCOPES))
    .min(1)
    .refine((scopes) => new Set(scopes).size === scopes.length, "names a scope twice"),
  expiresAt: z.iso.datetime({ offset: true }).optional(),
});
