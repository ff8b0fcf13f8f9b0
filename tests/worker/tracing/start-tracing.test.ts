import { afterEach, expect, test } from "vitest";
import { currentTraceparent, inSpan, inSpanNow } from "../../../worker/tracing/span.js";
import { loadPackages, startTracing, type Tracing } from "../../../worker/tracing/start-tracing.js";
import { startCollector } from "../../support/collector.js";

let tracing: Tracing | undefined;
afterEach(async () => {
  await tracing?.stop();
  tracing = undefined;
});

const silent = { warn: () => {} };
const to = (url?: string, share = 1) => ({ HEATGATE_TRACES_URL: url, HEATGATE_TRACES_SHARE: share });

test("switched off nothing is loaded, and work runs as it would", async () => {
  tracing = await startTracing(to(), "api", silent, () => Promise.reject(new Error("loaded all the same")));
  expect(await inSpan("work", {}, async () => currentTraceparent())).toBeUndefined();
  expect(inSpanNow("work", () => 7)).toBe(7);
});

test("switched on without the packages it says so, and how to get them", async () => {
  const missing = Object.assign(new Error("Cannot find package"), { code: "ERR_MODULE_NOT_FOUND" });
  const starting = startTracing(to("http://127.0.0.1:4318/v1/traces"), "api", silent, () => Promise.reject(missing));
  await expect(starting).rejects.toThrow(/HEATGATE_TRACES_URL: .* npm install --include=optional/);
});

test("what work throws marks its span and is thrown on; its message, which may quote a document, stays here", async () => {
  const collector = await startCollector();
  tracing = await startTracing(to(collector.url), "worker", silent);
  const work = inSpan("outer", {}, async () => inSpanNow("inner", () => JSON.parse("Heat H4471")));
  await expect(work).rejects.toThrow("H4471");
  await tracing.stop();
  const [inner, outer] = collector.spans;
  expect(inner).toMatchObject({
    name: "inner",
    service: "heatgate-worker",
    attributes: { "error.type": "SyntaxError" },
  });
  expect(inner?.parentSpanId).toBe(outer?.spanId);
  expect(JSON.stringify(collector.spans)).not.toContain("H4471");
  await collector.close();
});

test("a share of 0 sends nothing of what begins here", async () => {
  const collector = await startCollector();
  tracing = await startTracing(to(collector.url, 0), "worker", silent);
  await inSpan("work", {}, async () => {});
  await tracing.stop();
  expect(collector.spans).toEqual([]);
  await collector.close();
});

test("a collector that is away is said once, and stops nobody", async () => {
  const collector = await startCollector();
  await collector.close();
  const said: unknown[] = [];
  tracing = await startTracing(to(collector.url), "api", { warn: (...line: unknown[]) => void said.push(line) });
  for (let number = 0; number < 3; number++) expect(await inSpan("work", {}, async () => number)).toBe(number);
  await tracing.stop();
  expect(said).toHaveLength(1);
});

test("the packages for it are installed with a plain npm ci", async () => {
  expect(Object.keys(await loadPackages())).toContain("OTLPTraceExporter");
});
