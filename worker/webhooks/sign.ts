import { createHmac } from "node:crypto";
import { openPrivateKey, signText } from "../store/signing/ed25519.js";

/**
 * Headers of the Standard Webhooks specification 1.0.0. What is signed is the id, the time and the body together, so that
 * none of the three can be swapped. The id stays over all tries of one event, the time is each try's own. Every secret signs, so that a
 * receiver that knows one of them is content.
 * @param secrets whsec_… for v1 (HMAC-SHA256), or the PEM of a private key for v1a (Ed25519)
 */
export function signatureHeaders(
  secrets: readonly string[],
  id: string,
  at: Date,
  body: string,
): Record<string, string> {
  const seconds = Math.floor(at.getTime() / 1000);
  const signatures = secrets.map((secret) => signatureBy(secret, `${id}.${seconds}.${body}`));
  return {
    "webhook-id": id,
    "webhook-timestamp": String(seconds),
    "webhook-signature": signatures.join(" "),
  };
}

function signatureBy(secret: string, text: string): string {
  if (secret.startsWith("-----BEGIN")) return `v1a,${signText(openPrivateKey(secret), text).toString("base64")}`;
  return `v1,${createHmac("sha256", keyOf(secret)).update(text).digest("base64")}`;
}

function keyOf(secret: string): Buffer {
  return Buffer.from(secret.replace(/^whsec_/, ""), "base64");
}
