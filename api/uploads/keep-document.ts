import { createHash } from "node:crypto";
import { createWriteStream } from "node:fs";
import { Transform, type TransformCallback } from "node:stream";
import { finished } from "node:stream/promises";
import { Problem } from "../problems.js";

/** Bytes that all documents of one request may still take together. */
export interface Allowance {
  readonly submissionBytes: number;
  readonly documentBytes: number;
  bytesLeft: number;
}

const ARCHIVES: readonly string[] = ["application/zip", "application/x-zip-compressed"];

/** An archive holds many documents; each is measured by itself when it comes out. */
export function allowanceFor(mediaType: string, allowance: Allowance): Allowance {
  if (!ARCHIVES.includes(mediaType)) return allowance;
  return {
    submissionBytes: allowance.submissionBytes,
    documentBytes: allowance.submissionBytes,
    get bytesLeft() {
      return allowance.bytesLeft;
    },
    set bytesLeft(bytes) {
      allowance.bytesLeft = bytes;
    },
  };
}

export interface KeptFile {
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
  /** The first bytes, for telling what kind of file it is. */
  readonly head: Buffer;
}

/** One document on its way to disk: write the bytes into `into`; `kept` settles when the file is whole or refused. */
export interface Keeping {
  readonly into: Transform;
  readonly kept: Promise<KeptFile>;
}

export const HEAD_BYTES = 1_024;

/** Counts and hashes on the fly, and refuses at the first byte too many, before the rest has come in. */
export function keepDocument(path: string, name: string, allowance: Allowance): Keeping {
  const hash = createHash("sha256");
  let head = Buffer.alloc(0);
  let bytes = 0;

  const meter = new Transform({
    transform(chunk: Buffer, _encoding, done: TransformCallback) {
      bytes += chunk.length;
      allowance.bytesLeft -= chunk.length;
      if (bytes > allowance.documentBytes) return done(documentTooLarge(name, allowance.documentBytes));
      if (allowance.bytesLeft < 0) return done(requestTooLarge(allowance.submissionBytes));
      if (head.length < HEAD_BYTES) head = Buffer.concat([head, chunk]).subarray(0, HEAD_BYTES);
      hash.update(chunk);
      done(null, chunk);
    },
  });
  const file = createWriteStream(path, { flags: "wx", mode: 0o600 });
  meter.once("error", (error) => file.destroy(error));
  file.once("error", (error) => meter.destroy(error));
  meter.pipe(file);

  const kept = finished(file).then(() => ({ path, sha256: hash.digest("hex"), bytes, head }));
  return { into: meter, kept };
}

export function documentTooLarge(name: string, documentBytes: number): Problem {
  const detail = `${name} is larger than the ${documentBytes} bytes that one document may have.`;
  return new Problem("document-too-large", { detail });
}

export function requestTooLarge(submissionBytes: number): Problem {
  const detail = `The documents together are larger than the ${submissionBytes} bytes that one submission may have.`;
  return new Problem("request-too-large", { detail });
}
