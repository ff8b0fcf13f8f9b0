import { randomUUID } from "node:crypto";
import { createReadStream } from "node:fs";
import { mkdtemp, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DeleteObjectCommand, GetObjectCommand, PutObjectCommand, S3Client } from "@aws-sdk/client-s3";
import type { DocumentStore } from "./records.js";

export interface BucketOptions {
  readonly bucket: string;
  readonly prefix: string;
  readonly region: string;
  readonly endpoint?: string;
  /** Left out: the surroundings' own credentials, as the AWS client finds them. */
  readonly credentials?: { readonly accessKeyId: string; readonly secretAccessKey: string };
  /** A connection on which nothing has come or gone for so long is given up; 15 s where left out. */
  readonly silentMs?: number;
}

const SILENT_MS = 15_000;
const CONNECT_MS = 5_000;

/** Document bytes as objects named by their SHA-256, which the bucket checks as they arrive. */
export function openDocumentsBucket(options: BucketOptions): DocumentStore {
  const client = new S3Client({
    region: options.region,
    ...(options.endpoint !== undefined && { endpoint: options.endpoint, forcePathStyle: true }),
    ...(options.credentials && { credentials: options.credentials }),
    maxAttempts: 3,
    // Of itself the client waits for ever.
    requestHandler: { connectionTimeout: CONNECT_MS, socketTimeout: options.silentMs ?? SILENT_MS },
  });
  const Bucket = options.bucket;
  const keyOf = (sha256: string) => {
    if (!/^[0-9a-f]{64}$/.test(sha256)) throw new Error("A document is named by 64 hexadecimal digits.");
    return `${options.prefix}${sha256}`;
  };

  async function get(sha256: string): Promise<Uint8Array> {
    const { Body } = await client.send(new GetObjectCommand({ Bucket, Key: keyOf(sha256) }));
    if (!Body) throw new Error(`The bucket answered without the bytes of ${sha256}.`);
    return Body.transformToByteArray();
  }

  return {
    async put(sha256, path) {
      const { size } = await stat(path);
      await client.send(
        new PutObjectCommand({
          Bucket,
          Key: keyOf(sha256),
          Body: createReadStream(path),
          ContentLength: size,
          ChecksumSHA256: Buffer.from(sha256, "hex").toString("base64"),
        }),
      );
    },
    get,
    async remove(sha256) {
      await client.send(new DeleteObjectCommand({ Bucket, Key: keyOf(sha256) }));
    },
    async checkOut(sha256) {
      const folder = await mkdtemp(join(tmpdir(), "heatgate-document-"));
      const release = () => rm(folder, { recursive: true, force: true });
      try {
        const path = join(folder, randomUUID());
        await writeFile(path, await get(sha256));
        return { path, release };
      } catch (error) {
        await release();
        throw error;
      }
    },
    async check() {
      await client.send(new PutObjectCommand({ Bucket, Key: `${options.prefix}probe`, Body: "probe" }));
    },
  };
}
