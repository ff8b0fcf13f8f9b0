import { randomBytes } from "node:crypto";
import { z } from "zod";
import type { Callback } from "../uploads/received.js";
import { parseJson } from "./parse-json.js";

/** Standard Webhooks: 24 to 64 random bytes, base64, after whsec_. */
const SECRET_BYTES = 32;

export const callbackSchema = z.strictObject({
  url: z.string().max(2_000),
  secret: z.string().refine(isSecret, "must be whsec_ followed by the base64 of 24 to 64 random bytes").optional(),
});

export function readCallback(text: string | undefined): Callback | undefined {
  if (text === undefined) return undefined;
  const { url, secret } = parseJson(text, callbackSchema, "The callback", "callback-invalid");
  return { url, secret: secret ?? newSecret(), isSecretNew: secret === undefined };
}

function newSecret(): string {
  return `whsec_${randomBytes(SECRET_BYTES).toString("base64")}`;
}

function isSecret(text: string): boolean {
  const match = /^whsec_([A-Za-z0-9+/]+={0,2})$/.exec(text);
  const bytes = Buffer.from(match?.[1] ?? "", "base64").length;
  return bytes >= 24 && bytes <= 64;
}
