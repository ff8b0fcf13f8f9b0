import { writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { join } from "node:path";
import { Registry } from "prom-client";
import request from "supertest";
import { afterEach, expect, test, vi } from "vitest";
import { openDocumentsBucket } from "../../worker/store/documents-s3.js";
import type { DocumentStore } from "../../worker/store/records.js";
import { watchStores } from "../../worker/watch-stores.js";
import { startBucketServer } from "../support/bucket.js";
import { sha256, temporaryFolder } from "../support/invented.js";
import { testApi } from "../support/test-api.js";

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

/** Watched every few milliseconds, with what the log was told. */
function watched(checks: Parameters<typeof watchStores>[0]) {
  const lines: [level: string, said: string, store: unknown][] = [];
  const line = (level: string) => (fields: { readonly store?: string }, said: string) => {
    lines.push([level, said, fields.store]);
  };
  const registry = new Registry();
  const { stop } = watchStores(checks, { info: line("info"), error: line("error") } as never, registry, 5);
  ends.push(stop);
  return { lines, metrics: () => registry.metrics() };
}

test("a bucket that closes while nobody hands in is told of once, and so is its return", async () => {
  let bucket = await startBucketServer();
  let documents = openDocumentsBucket(bucket);
  const { lines, metrics } = watched({ documents: () => documents.check(), records: async () => {} });
  expect(lines).toEqual([]);
  await expect.poll(metrics).toContain('heatgate_store_up{store="documents"} 1');
  await bucket.close();
  await expect.poll(() => lines, { timeout: 10_000 }).toEqual([["error", "a store is away", "documents"]]);
  expect(await metrics()).toContain('heatgate_store_up{store="documents"} 0');
  expect(await metrics()).toContain('heatgate_store_up{store="records"} 1');

  bucket = await startBucketServer();
  ends.push(() => bucket.close());
  documents = openDocumentsBucket(bucket);
  await expect.poll(() => lines.slice(1), { timeout: 10_000 }).toEqual([["info", "a store is back", "documents"]]);
  expect(await metrics()).toContain('heatgate_store_up{store="documents"} 1');
});

test("a store that stays away is told of again after twenty looks", async () => {
  const check = vi.fn(() => Promise.reject(new Error("away")));
  const { lines } = watched({ records: check });
  await expect.poll(() => check.mock.calls.length).toBeGreaterThan(22);
  expect(lines.length).toBeGreaterThanOrEqual(2);
  expect(lines.length).toBeLessThanOrEqual(Math.ceil(check.mock.calls.length / 20));
});

test.each([
  ["has closed", closedBucket],
  ["keeps silent", silentBucket],
  ["lost its bucket", async () => openDocumentsBucket({ ...(await openBucket()), bucket: "elsewhere" })],
])("while the bucket %s a submission is refused for the moment and nothing is left behind", async (_, open) => {
  const documents = await open();
  const api = testApi({ documents });
  ends.push(() => api.remove());
  const refused = await request(api.app).post("/v1/submissions").type("text/csv").send("Heat;C");
  expect(refused.body.code).toBe("store-unavailable");
  expect(refused.status).toBe(503);
  expect(refused.headers["retry-after"]).toBe("5");
  expect(api.records.kept.size).toBe(0);
  expect(api.uploads()).toEqual([]);
  expect(api.logged()).toContain("the store is away");
  const probed = await request(api.app).get("/readyz");
  expect(probed.body.code).toBe("store-unavailable");
  expect(api.logged()).toContain("not ready");
});

async function openBucket() {
  const bucket = await startBucketServer();
  ends.push(() => bucket.close());
  return bucket;
}

async function closedBucket(): Promise<DocumentStore> {
  const bucket = await startBucketServer();
  const folder = await temporaryFolder();
  ends.push(() => folder.remove());
  const documents = openDocumentsBucket(bucket);
  await writeFile(join(folder.path, "upload"), "bytes");
  await documents.put(sha256("bytes"), join(folder.path, "upload"));
  await bucket.close();
  return documents;
}

/** Takes connections and never says a word. */
async function silentBucket(): Promise<DocumentStore> {
  const server = createServer((socket) => void socket.on("error", () => {}));
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  ends.push(() => server.close());
  const { port } = server.address() as { port: number };
  return openDocumentsBucket({
    bucket: "documents",
    prefix: "",
    region: "us-east-1",
    endpoint: `http://127.0.0.1:${port}`,
    credentials: { accessKeyId: "A", secretAccessKey: "B" },
    silentMs: 300,
  });
}
