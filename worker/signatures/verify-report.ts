import { createHash } from "node:crypto";
import canonicalize from "canonicalize";
import { z } from "zod";
import { DEFAULT_BUDGETS } from "../readers/budgets.js";
import { createMeter } from "../readers/meter.js";
import { ReadFailure } from "../readers/problem.js";
import { parseJson } from "../readers/tree/read-json.js";
import { isSignedBy, thumbprint } from "../store/signing/ed25519.js";

/** A key set as the service publishes it at /.well-known/jwks.json (RFC 7517, RFC 8037); other members are passed over. */
export const keySetSchema = z.object({
  keys: z.array(z.object({ kid: z.string(), kty: z.string(), crv: z.string().optional(), x: z.string().optional() })),
  revoked: z.array(z.object({ kid: z.string(), revokedAt: z.string() })).optional(),
});

const signatureSchema = z.object({
  algorithm: z.literal("Ed25519"),
  keyId: z.string(),
  signature: z.string().regex(/^[A-Za-z0-9_-]{86}$/),
});

export type Verification =
  | {
      readonly isGood: true;
      readonly keyId: string;
      /** SHA-256 of the canonical bytes. */
      readonly digest: string;
      /** The file says what was signed, with other spaces or another order of members. */
      readonly isRewritten: boolean;
      readonly verdict: string | undefined;
    }
  | { readonly isGood: false; readonly why: string };

/**
 * Holds a report against its detached signature and the published keys. Nothing but these three texts is looked at: no network, no
 * clock. What was signed is the canonical form (RFC 8785), so a report that some program parsed and printed anew is still good.
 */
export function verifyReport(
  reportText: string,
  signatureText: string,
  keySet: z.output<typeof keySetSchema>,
): Verification {
  const signed = signatureSchema.safeParse(parseOrUndefined(signatureText));
  if (!signed.success) return bad("The signature file holds no Ed25519 signature as GET …/report/signature gives it.");
  const { keyId, signature } = signed.data;

  const fault = faultInJson(reportText);
  if (fault !== undefined) return bad(`The report was changed or cut off: ${fault}`);
  const report: unknown = JSON.parse(withoutMark(reportText));
  const canonical = canonicalize(report) ?? "";

  const revoked = keySet.revoked?.find(({ kid }) => kid === keyId);
  if (revoked) {
    return bad(
      `It was signed with the key ${keyId}, which was revoked on ${revoked.revokedAt}: its signatures prove nothing. ` +
        "Fetch the report's signature anew: the service's operator may have signed it again with another key.",
    );
  }
  const key = keySet.keys.find(({ kid }) => kid === keyId);
  const isUsable = key?.kty === "OKP" && key.crv === "Ed25519" && key.x !== undefined;
  if (!isUsable) {
    return bad(
      `It was signed with the key ${keyId}, which is not among the ${keySet.keys.length} in the key file. ` +
        "Fetch the keys anew from the service that you trust; if it is not there either, somebody else signed this.",
    );
  }
  // The id names the key by its own bytes, so that no other key can be put under it.
  if (thumbprint(key.x!) !== keyId) return bad(`The key file holds another key under the id ${keyId}.`);
  if (!isSignedBy(key.x!, canonical, Buffer.from(signature, "base64url"))) {
    return bad(
      "The signature does not fit: the report is not the one that was signed, or the signature is another report's.",
    );
  }
  return {
    isGood: true,
    keyId,
    digest: createHash("sha256").update(canonical, "utf8").digest("hex"),
    isRewritten: canonical !== reportText,
    verdict: verdictOf(report),
  };
}

function bad(why: string): Verification {
  return { isGood: false, why };
}

/** Stricter than JSON.parse: of a member that stands there twice, programs differ in which they believe. */
function faultInJson(text: string): string | undefined {
  const budgets = { ...DEFAULT_BUDGETS, treeNodes: Number.POSITIVE_INFINITY };
  try {
    parseJson(withoutMark(text), createMeter(budgets));
    return undefined;
  } catch (error) {
    if (error instanceof ReadFailure) return error.message;
    throw error;
  }
}

function withoutMark(text: string): string {
  return text.replace(/^\ufeff/, "");
}

function parseOrUndefined(text: string): unknown {
  try {
    return JSON.parse(withoutMark(text));
  } catch {
    return undefined;
  }
}

function verdictOf(report: unknown): string | undefined {
  const { verdict } = (typeof report === "object" && report !== null ? report : {}) as { readonly verdict?: unknown };
  return typeof verdict === "string" ? verdict : undefined;
}
