import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import request from "supertest";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type RunningService, startService } from "../../api/main.js";
import { temporaryFolder } from "../support/invented.js";

const SAMPLES = fileURLToPath(new URL("../../samples/", import.meta.url));

let folder: Awaited<ReturnType<typeof temporaryFolder>>;
let service: RunningService;
const environment = () => ({ PORT: "0", HEATGATE_DATA: join(folder.path, "data"), HEATGATE_LOG_LEVEL: "silent" });

beforeAll(async () => {
  folder = await temporaryFolder();
  service = await startService(environment());
});
afterAll(async () => {
  await service.stop();
  await folder.remove();
});

it("judges a document end to end: HTTP, queue, reader, judge, report", async () => {
  const csv = await readFile(join(SAMPLES, "carbon-too-high/aurenbach-a-240417.csv"));
  const response = await request(service.url)
    .post("/v1/submissions")
    .set({ Authorization: `Bearer ${service.firstKey}`, Prefer: "wait=20", "Content-Type": "text/csv" })
    .send(csv);
  expect(response.status).toBe(200);
  expect(response.body).toMatchObject({ state: "done", verdict: "fail" });
  expect(response.body.heats[0].reasons[0]).toMatchObject({ outcome: "fail", quantity: "C" });
});

it("says of a document that cannot be read what is wrong with it and what to do", async () => {
  const workbook = await readFile(join(SAMPLES, "clean-304l-plate/norrvik-ns-88213.xlsx"));
  const response = await request(service.url)
    .post("/v1/submissions?name=cut.xlsx")
    .set({ Authorization: `Bearer ${service.firstKey}`, Prefer: "wait=20", "Content-Type": "application/octet-stream" })
    .send(workbook.subarray(0, 3_000));
  expect(response.body).toMatchObject({ state: "done", verdict: "undetermined", heats: [] });
  expect(response.body.documents[0].doubts).toMatchObject([
    { code: "truncated", message: expect.stringMatching(/send the file again/) },
  ]);
});

it("judges again with what a person corrected, and keeps what was judged before", async () => {
  const headers = { Authorization: `Bearer ${service.firstKey}`, Prefer: "wait=20" };
  const csv = await readFile(join(SAMPLES, "carbon-too-high/aurenbach-a-240417.csv"));
  const first = await request(service.url).post("/v1/submissions").set(headers).type("text/csv").send(csv);
  const carbon = first.body.report.heats[0].readings.find(({ quantity }: { quantity: string }) => quantity === "C");
  const { document: _, ...evidence } = carbon.evidence;
  const item = { document: first.body.documents[0].sha256, evidence, quantity: "C", value: "0.024", unit: "%" };
  const corrected = await request(service.url)
    .post(`${first.body.links.self}/corrections`)
    .set(headers)
    .send({ corrections: 1, by: "M. Aurland", date: "2026-11-25", items: [item] });
  const done = await request(service.url).get(corrected.body.links.self).set(headers);
  expect(done.body).toMatchObject({ state: "done", verdict: "pass", correctionOf: first.body.id });
  const before = await request(service.url).get(first.body.links.self).set(headers);
  expect(before.body.verdict).toBe("fail");
});

it("a second process on the same data folder is told so in a sentence", async () => {
  await expect(startService(environment())).rejects.toThrow(/data folder|in use|locked/i);
});

it("started again it has its submissions and makes no second first key", async () => {
  const { firstKey } = service;
  await service.stop();
  service = await startService(environment());
  expect(service.firstKey).toBeUndefined();
  const listed = await request(service.url).get("/v1/submissions").set("Authorization", `Bearer ${firstKey}`);
  expect(listed.body.items).toHaveLength(3);
});

it("a setting without sense is named", async () => {
  await expect(startService({ ...environment(), PORT: "http" })).rejects.toThrow(/PORT/);
});
