import { existsSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openDocumentsBucket } from "../../../worker/store/documents-s3.js";
import type { DocumentStore } from "../../../worker/store/records.js";
import { startBucketServer } from "../../support/bucket.js";
import { sha256, temporaryFolder } from "../../support/invented.js";

let server: Awaited<ReturnType<typeof startBucketServer>>;
let folder: Awaited<ReturnType<typeof temporaryFolder>>;
let documents: DocumentStore;

beforeAll(async () => {
  server = await startBucketServer();
  folder = await temporaryFolder();
  documents = openDocumentsBucket(server);
});
afterAll(async () => {
  await server.close();
  await folder.remove();
});

test("bytes come back as they were put, twice over, and the upload is left to its owner", async () => {
  const bytes = "Heat;C\nH1;0,021\n";
  for (let time = 0; time < 2; time++) {
    const upload = join(folder.path, "upload");
    await writeFile(upload, bytes);
    await documents.put(sha256(bytes), upload);
    expect(existsSync(upload)).toBe(true);
  }
  expect(Buffer.from(await documents.get(sha256(bytes))).toString()).toBe(bytes);
});

test("a reader gets a file of its own, which is gone afterwards", async () => {
  const upload = join(folder.path, "upload");
  await writeFile(upload, "bytes");
  await documents.put(sha256("bytes"), upload);
  const { path, release } = await documents.checkOut(sha256("bytes"));
  expect(await readFile(path, "utf8")).toBe("bytes");
  await release();
  expect(existsSync(path)).toBe(false);
});

test("removed bytes are gone, once or twice, and can be put again", async () => {
  const upload = join(folder.path, "upload");
  await writeFile(upload, "to go");
  await documents.put(sha256("to go"), upload);
  await documents.remove(sha256("to go"));
  await documents.remove(sha256("to go"));
  await expect(documents.get(sha256("to go"))).rejects.toThrow();
  await documents.put(sha256("to go"), upload);
  expect(Buffer.from(await documents.get(sha256("to go"))).toString()).toBe("to go");
});

test("what was never put is an error, and so is a bucket that is not there", async () => {
  await expect(documents.get(sha256("never"))).rejects.toThrow();
  await expect(documents.checkOut(sha256("never"))).rejects.toThrow();
  await documents.check();
  await expect(openDocumentsBucket({ ...server, bucket: "elsewhere" }).check()).rejects.toThrow();
});
