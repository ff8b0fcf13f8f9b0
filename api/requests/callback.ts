import { z } from "zod";
import { isWebhookSecret, newWebhookSecret } from "../../worker/store/webhook-secret.js";
import type { Callback } from "../uploads/received.js";
import { parseJson } from "./parse-json.js";

export const secretSchema = z
  .string()
  .refine(isWebhookSecret, "must be whsec_ followed by the base64 of 24 to 64 random bytes");

export const callbackSchema = z.strictObject({
  url: z.string().max(2_000),
  secret: secretSchema.optional(),
});

export function readCallback(text: string | undefined): Callback | undefined {
  if (text === undefined) return undefined;
  const { url, secret } = parseJson(text, callbackSchema, "The callback", "callback-invalid");
  return { url, secret: secret ?? newWebhookSecret(), isSecretNew: secret === undefined };
}
