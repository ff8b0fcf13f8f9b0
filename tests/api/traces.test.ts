import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { InMemorySpanExporter, type ReadableSpan, SimpleSpanProcessor } from "@opentelemetry/sdk-trace-base";
import { pino } from "pino";
import request from "supertest";
import { afterAll, afterEach, beforeAll, expect, it } from "vitest";
import { LOG_OPTIONS } from "../../worker/log.js";
import { openServerDatabase } from "../../worker/store/database.js";
import { migrate } from "../../worker/store/migrate.js";
import { openEmbedded } from "../../worker/store/open-embedded.js";
import { openKeys } from "../../worker/store/sql-keys.js";
import { loadPackages, registerTracing, type Tracing } from "../../worker/tracing/start-tracing.js";
import { startChild } from "../support/child.js";
import { startCollector } from "../support/collector.js";
import { embeddedFolder } from "../support/embedded-folder.js";
import { namingVerifier, temporaryFolder } from "../support/invented.js";
import { startPostgres } from "../support/postgres.js";
import { startReceiver } from "../support/receiver.js";
import { startTestWorker } from "../support/running-worker.js";
import { testApi } from "../support/test-api.js";

const TRACE = "0af7651916cd43dd8448eb211c80319c";
const SENDER = "b7ad6b7169203331";

let service: Awaited<ReturnType<typeof serve>>;
let tracing: Tracing | undefined;
beforeAll(async () => {
  service = await serve();
});
afterAll(() => service.stop());
afterEach(async () => {
  await tracing?.stop();
  tracing = undefined;
});

/** The service in this process, with all that it logs. */
async function serve() {
  const folder = await embeddedFolder();
  const stores = await openEmbedded(folder.path, "http://heatgate.example");
  const worker = await startTestWorker(stores, namingVerifier());
  const uploadFolder = join(folder.path, "uploads");
  await mkdir(uploadFolder);
  const lines: string[] = [];
  const logger = pino({ ...LOG_OPTIONS }, { write: (line) => void lines.push(line) });
  const { records, documents } = stores;
  const api = testApi({ records, documents, uploadFolder, logger, callbackProblem: () => undefined });
  const receiver = await startReceiver();
  return {
    receiver,
    records,
    lines: () => lines.map((line) => JSON.parse(line)),
    submit: (headers: Record<string, string>) =>
      request(api.app)
        .post("/v1/submissions")
        .set({ Prefer: "wait=20", ...headers })
        .attach("document", Buffer.from(`Heat;C\nH1;${Math.random()}\n`), "cert.csv")
        .field("callback", JSON.stringify({ url: receiver.url })),
    async stop() {
      await worker.stop();
      await stores.close();
      api.remove();
      await receiver.close();
      await folder.remove();
    },
  };
}

it("one trace leads from the sender's own span through request, job and stages to the receiver", async () => {
  const exporter = new InMemorySpanExporter();
  tracing = registerTracing(await loadPackages(), "api", 1, new SimpleSpanProcessor(exporter));
  const { status, body } = await service.submit({ traceparent: `00-${TRACE}-${SENDER}-01` });
  expect(status).toBe(200);
  const [told] = await service.receiver.waitFor(1);
  const ours = (): ReadableSpan[] => exporter.getFinishedSpans().filter((span) => span.spanContext().traceId === TRACE);
  await expect.poll(() => ours().map(({ name }) => name)).toContain("process deliver");

  const parents = Object.fromEntries(
    ours().map(({ name, parentSpanContext }) => {
      const parent = ours().find((span) => span.spanContext().spanId === parentSpanContext?.spanId);
      return [name, parent?.name ?? parentSpanContext?.spanId];
    }),
  );
  expect(parents).toEqual({
    "POST /v1/submissions": SENDER,
    accept: "POST /v1/submissions",
    "process judge": "accept",
    fetch: "process judge",
    read: "process judge",
    recognise: "process judge",
    judge: "process judge",
    store: "process judge",
    "process deliver": "store",
    deliver: "process deliver",
  });
  const deliver = ours().find(({ name }) => name === "deliver")!;
  expect(told?.headers.traceparent).toBe(`00-${TRACE}-${deliver.spanContext().spanId}-01`);
  expect(deliver.attributes).toMatchObject({ "http.response.status_code": 204, "server.address": "127.0.0.1" });
  const first = ours().find(({ name }) => name.startsWith("POST"))!;
  expect(first.attributes).toMatchObject({ "http.route": "/v1/submissions", "http.response.status_code": 200 });
  expect(ours().find(({ name }) => name === "accept")?.attributes).toEqual({ "heatgate.submission": body.id });
  expect(JSON.stringify(ours().map(({ attributes }) => attributes))).not.toMatch(/cert\.csv|H1/);
  expect(service.lines().find(({ req }) => req)).toMatchObject({ route: "/v1/submissions", traceId: TRACE });
});

it.each([["none"], ["00-zz-1-01"], [`00-${"0".repeat(32)}-${SENDER}-01`]])(
  "traceparent %s begins a trace of its own",
  async (traceparent) => {
    const exporter = new InMemorySpanExporter();
    tracing = registerTracing(await loadPackages(), "api", 1, new SimpleSpanProcessor(exporter));
    const api = testApi();
    await request(api.app).get("/v1/grades?limit=1").set("traceparent", traceparent);
    await request(api.app).get("/livez");
    await expect.poll(() => exporter.getFinishedSpans().length).toBe(1);
    const [span] = exporter.getFinishedSpans();
    expect(span?.name).toBe("GET /v1/grades");
    expect(span?.parentSpanContext).toBeUndefined();
    expect(api.logged()).toContain(`"traceId":"${span?.spanContext().traceId}"`);
    api.remove();
  },
);

it("switched off nobody hears of traces, whatever the sender says", async () => {
  const { status } = await service.submit({ traceparent: `00-${TRACE}-${SENDER}-01` });
  expect(status).toBe(200);
  const told = (await service.receiver.waitFor(2)).at(-1);
  expect(told?.headers.traceparent).toBeUndefined();
  expect(service.lines().at(-1)).toMatchObject({ msg: "request completed" });
  expect(service.lines().at(-1).traceId).toBeUndefined();
});

it("api and worker as processes of their own send one trace to a collector, and log its id", async () => {
  const [collector, receiver, postgres, folder] = await Promise.all([
    startCollector(),
    startReceiver(),
    startPostgres(),
    temporaryFolder(),
  ]);
  const database = openServerDatabase({ url: postgres.url, connections: 2 });
  await migrate(database.pool);
  const made = await openKeys(database.pool).create({ client: "yard", name: "a", scopes: ["submit"] }, "tests");
  await database.close();
  const environment = {
    HEATGATE_DATA: folder.path,
    DATABASE_URL: postgres.url,
    HEATGATE_TRACES_URL: collector.url,
    HEATGATE_WEBHOOK_ALLOW: "loopback",
    HEATGATE_HEARTBEAT_SECONDS: "0",
    HEATGATE_WORKER_PORT: "0",
    PORT: "0",
  };
  const api = startChild("../../api/main.ts", [], environment);
  const worker = startChild("../../worker/main.ts", [], environment);
  const line = (lines: readonly string[], msg: string) =>
    lines.map((text) => JSON.parse(text)).find((said) => said.msg === msg);
  const { url } = line(await api.until((lines) => line(lines, "serving")), "serving");
  await worker.until((lines) => line(lines, "worker started"));

  const form = new FormData();
  form.append("document", new Blob(["Heat;C\nH1;0,02\n"]), "cert.csv");
  form.append("callback", JSON.stringify({ url: receiver.url }));
  const answer = await fetch(`${url}/v1/submissions`, {
    method: "POST",
    headers: { authorization: `Bearer ${made.key}`, traceparent: `00-${TRACE}-${SENDER}-01` },
    body: form,
  });
  expect(answer.status).toBe(202);
  const [told] = await receiver.waitFor(1);
  expect(told?.headers.traceparent).toContain(TRACE);
  await worker.until((lines) => line(lines, "delivery tried"));
  // A polite stop sends what was not sent yet.
  await Promise.all([api.kill("SIGTERM"), worker.kill("SIGTERM")]);

  const ours = collector.spans.filter(({ traceId }) => traceId === TRACE);
  const byService = (service: string) => ours.filter((span) => span.service === service).map(({ name }) => name);
  expect(byService("heatgate-api").sort()).toEqual(["POST /v1/submissions", "accept"]);
  expect(byService("heatgate-worker").sort()).toEqual(
    ["deliver", "fetch", "judge", "process deliver", "process judge", "read", "recognise", "store"].sort(),
  );
  const known = new Set([SENDER, ...ours.map(({ spanId }) => spanId)]);
  expect(ours.filter(({ parentSpanId }) => !known.has(parentSpanId ?? "none"))).toEqual([]);
  for (const [child, msg] of [
    [api, "request completed"],
    [worker, "submission judged"],
    [worker, "delivery tried"],
  ] as const)
    expect(line(child.lines, msg)).toMatchObject({ traceId: TRACE });
  await Promise.all([collector.close(), receiver.close(), postgres.remove(), folder.remove()]);
}, 120_000);
