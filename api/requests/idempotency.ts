import { createHash } from "node:crypto";
import canonicalize from "canonicalize";
import type { Requirement } from "../../core/requirement/requirement.js";
import { Problem } from "../problems.js";
import type { Received } from "../uploads/received.js";

const LONGEST_KEY = 255;

/** The Idempotency-Key header (IETF draft): a quoted string; bare ones are taken too, since many clients send them so. */
export function idempotencyKey(header: string | undefined): string | undefined {
  if (header === undefined) return undefined;
  const quoted = /^"((?:[\x20\x21\x23-\x5b\x5d-\x7e]|\\["\\])*)"$/.exec(header)?.[1]?.replace(/\\(["\\])/g, "$1");
  const key = quoted ?? header;
  const isFit = key.length > 0 && key.length <= LONGEST_KEY && /^[\x20-\x7e]+$/.test(key);
  if (isFit) return key;
  const errors = [{ pointer: "Idempotency-Key", detail: `must be 1 to ${LONGEST_KEY} printable ASCII characters` }];
  throw new Problem("parameter-invalid", { errors });
}

/**
 * Everything that a report depends on, as one digest: same content, same report. With a callback there is none, because
 * every receiver has to be told.
 */
export function contentDigest(
  { documents, callback, tags }: Received,
  requirement: Requirement | null,
  libraryDigest: string,
): string | undefined {
  if (callback) return undefined;
  const content = {
    documents: documents.map(({ name, mediaType, sha256 }) => ({ name, mediaType, sha256 })),
    requirement,
    tags,
    library: libraryDigest,
  };
  return createHash("sha256").update(canonicalize(content)!).digest("hex");
}

/**
 * What a submission says, as one digest. It is made of the meaning and not of the body's bytes, for a client that sends a
 * form again chooses another boundary. A secret made here is no part of it.
 */
export function fingerprint({ documents, callback, tags }: Received, requirement: Requirement | null): string {
  const meaning = {
    documents: documents.map(({ name, mediaType, sha256 }) => ({ name, mediaType, sha256 })),
    requirement,
    tags,
    callback: callback ? { url: callback.url, secret: callback.isSecretNew ? null : callback.secret } : null,
  };
  return createHash("sha256").update(canonicalize(meaning)!).digest("hex");
}
