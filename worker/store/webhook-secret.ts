import { randomBytes } from "node:crypto";
import { newKeyPair } from "./signing/ed25519.js";

/** Standard Webhooks 1.0.0: v1 is HMAC-SHA256 with a shared secret, v1a is Ed25519, where only the sender can sign. */
export const SIGNATURE_KINDS = ["v1", "v1a"] as const;
export type SignatureKind = (typeof SIGNATURE_KINDS)[number];

/** The specification asks for 24 to 64 random bytes. */
const SECRET_BYTES = 32;

export function newWebhookSecret(): string {
  return `whsec_${randomBytes(SECRET_BYTES).toString("base64")}`;
}

/** The private half stays here, as PEM; the receiver gets the public one. */
export function newWebhookKeyPair(): { readonly privateKey: string; readonly publicKey: string } {
  const { privateKey, publicKey } = newKeyPair();
  return { privateKey, publicKey: `whpk_${Buffer.from(publicKey, "base64url").toString("base64")}` };
}

export function isWebhookSecret(text: string): boolean {
  const match = /^whsec_([A-Za-z0-9+/]+={0,2})$/.exec(text);
  const bytes = Buffer.from(match?.[1] ?? "", "base64").length;
  return bytes >= 24 && bytes <= 64;
}
