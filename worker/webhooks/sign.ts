import { createHmac } from "node:crypto";

/**
 * Headers of the Standard Webhooks specification 1.0.0. What is signed is the id, the time and the body together, so that
 * none of the three can be swapped. The id stays over all tries of one event, the time is each try's own.
 */
export function signatureHeaders(secret: string, id: string, at: Date, body: string): Record<string, string> {
  const seconds = Math.floor(at.getTime() / 1000);
  const signature = createHmac("sha256", keyOf(secret)).update(`${id}.${seconds}.${body}`).digest("base64");
  return {
    "webhook-id": id,
    "webhook-timestamp": String(seconds),
    "webhook-signature": `v1,${signature}`,
  };
}

function keyOf(secret: string): Buffer {
  return Buffer.from(secret.replace(/^whsec_/, ""), "base64");
}
