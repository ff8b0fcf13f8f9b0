import { z } from "zod";
import type { StoredReport } from "../../worker/store/records.js";
import type { SigningKey } from "../../worker/store/signing/signing-keys.js";

export const signatureSchema = z
  .strictObject({
    algorithm: z.literal("Ed25519"),
    keyId: z.string().meta({ description: "`kid` of the key in /.well-known/jwks.json" }),
    signature: z.string().meta({ description: "64 bytes, base64url, over the report's canonical JSON (RFC 8785)" }),
    reportDigest: z.string().meta({ description: "SHA-256 of the same bytes, and the report's ETag" }),
  })
  .meta({ id: "ReportSignature" });

export function signatureBody({ digest, signature }: StoredReport): z.infer<typeof signatureSchema> {
  return { algorithm: "Ed25519", ...signature, reportDigest: digest };
}

/**
 * Beside the report as JSON, for a program that has it in hand: a dictionary of structured fields (RFC 9651), whose byte sequence is
 * the signature.
 */
export function signatureHeader({ signature: { keyId, signature } }: StoredReport): string {
  const bytes = Buffer.from(signature, "base64url").toString("base64");
  return `sig=:${bytes}:, keyid="${keyId}", alg="ed25519"`;
}

export const signingKeySchema = z
  .strictObject({
    kty: z.literal("OKP"),
    crv: z.literal("Ed25519"),
    x: z.string().meta({ description: "The public key's 32 bytes, base64url" }),
    kid: z.string().meta({ description: "Thumbprint of the key (RFC 7638)" }),
    use: z.literal("sig"),
    alg: z.literal("EdDSA"),
    createdAt: z.iso.datetime(),
    retiredAt: z.iso
      .datetime()
      .exactOptional()
      .meta({ description: "It signs nothing since then; what it signed before stays good" }),
  })
  .meta({ id: "SigningKey" });

export const signingKeySetSchema = z
  .strictObject({
    keys: z.array(signingKeySchema),
    revoked: z
      .array(z.strictObject({ kid: z.string(), revokedAt: z.iso.datetime() }))
      .meta({ description: "Keys that got into wrong hands. They are no longer among `keys`" }),
  })
  .meta({ id: "SigningKeySet", description: "A JWK set (RFC 7517) of OKP keys (RFC 8037)" });

export function signingKeyBody({ id, publicKey, createdAt, retiredAt }: SigningKey): z.infer<typeof signingKeySchema> {
  return {
    kty: "OKP",
    crv: "Ed25519",
    x: publicKey,
    kid: id,
    use: "sig",
    alg: "EdDSA",
    createdAt: createdAt.toISOString(),
    ...(retiredAt && { retiredAt: retiredAt.toISOString() }),
  };
}

export function signingKeySetBody(keys: readonly SigningKey[]): z.infer<typeof signingKeySetSchema> {
  return {
    keys: keys.filter(({ revokedAt }) => !revokedAt).map(signingKeyBody),
    revoked: keys.flatMap(({ id, revokedAt }) => (revokedAt ? [{ kid: id, revokedAt: revokedAt.toISOString() }] : [])),
  };
}
