import {
  createHash,
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  type KeyObject,
  sign,
  verify,
} from "node:crypto";

export interface KeyPair {
  readonly id: string;
  /** The 32 bytes of the public key, base64url: `x` of its JWK (RFC 8037, 2). */
  readonly publicKey: string;
  /** PKCS #8, PEM. */
  readonly privateKey: string;
}

export function newKeyPair(): KeyPair {
  const { publicKey, privateKey } = generateKeyPairSync("ed25519");
  const { x = "" } = publicKey.export({ format: "jwk" });
  return {
    id: thumbprint(x),
    publicKey: x,
    privateKey: privateKey.export({ type: "pkcs8", format: "pem" }).toString(),
  };
}

/** The JWK thumbprint of RFC 7638: whoever has the key can compute its id. */
export function thumbprint(publicKey: string): string {
  return createHash("sha256").update(`{"crv":"Ed25519","kty":"OKP","x":"${publicKey}"}`).digest("base64url");
}

export function openPrivateKey(pem: string): KeyObject {
  return createPrivateKey(pem);
}

/** RFC 8032, 5.1: over the bytes themselves, not over a hash of them. */
export function signText(key: KeyObject, text: string): Buffer {
  return sign(null, Buffer.from(text, "utf8"), key);
}

/** Throws when `publicKey` is no Ed25519 key. */
export function isSignedBy(publicKey: string, text: string, signature: Uint8Array): boolean {
  const key = createPublicKey({ format: "jwk", key: { kty: "OKP", crv: "Ed25519", x: publicKey } });
  return verify(null, Buffer.from(text, "utf8"), key, signature);
}
