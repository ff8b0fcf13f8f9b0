import request from "supertest";
import { afterEach, expect, it } from "vitest";
import { type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
afterEach(() => api.remove());

let sent = 0;
const submit = (text = `Heat;${++sent}`) => request(api.app).post("/v1/submissions").type("text/csv").send(text);

it("a key hears what is left of its minute, and then when to come back", async () => {
  api = testApi({ rates: { requestsPerMinute: 2, bytesPerMinute: 1_000 } });
  const first = await submit();
  expect(first.headers["ratelimit-policy"]).toBe('"requests";q=2;w=60, "bytes";q=1000;qu="content-bytes";w=60');
  expect(first.headers.ratelimit).toBe('"requests";r=1;t=60, "bytes";r=994;t=60');
  expect((await submit()).status).toBe(202);
  const third = await submit();
  expect(third.body.code).toBe("quota-exceeded");
  expect(Number(third.headers["retry-after"])).toBeGreaterThan(0);
  expect(api.records.kept.size).toBe(2);
});

it("bytes count as well, and one key's use is not another's", async () => {
  api = testApi({ rates: { requestsPerMinute: 100, bytesPerMinute: 100 } });
  expect((await submit("1".repeat(60))).status).toBe(202);
  const refused = await submit("1".repeat(61));
  expect(refused.body).toMatchObject({ code: "quota-exceeded", detail: expect.stringContaining("100 bytes") });
  expect(Number(refused.headers["retry-after"])).toBeGreaterThan(0);
  const { key } = await api.keys.create({ client: "other", name: "a", scopes: ["submit"] }, "tests");
  expect((await submit().set("Authorization", `Bearer ${key}`)).status).toBe(202);
});

it("what is refused for its bytes costs none, and whoever sends nothing is not held up by them", async () => {
  api = testApi({ rates: { requestsPerMinute: 100, bytesPerMinute: 100 } });
  await submit("1".repeat(60));
  for (let times = 0; times < 3; times++) await submit("1".repeat(61));
  const asked = await request(api.app).get("/v1/submissions");
  expect(asked.status).toBe(200);
  expect(asked.headers.ratelimit).toContain('"bytes";r=40');
  expect((await submit("1".repeat(40))).status).toBe(202);
});

it("a request that never fits is not told to come back", async () => {
  api = testApi({ rates: { requestsPerMinute: 100, bytesPerMinute: 100 } });
  const refused = await submit("1".repeat(101));
  expect(refused.status).toBe(413);
  expect(refused.headers["retry-after"]).toBeUndefined();
  expect((await submit("1".repeat(100))).status).toBe(202);
});

it("a request that never fits is not counted among the requests, one too large for a submission is", async () => {
  api = testApi({
    rates: { requestsPerMinute: 2, bytesPerMinute: 3_000_000 },
    limits: { documentBytes: 10, submissionBytes: 10, documents: 1 },
  });
  for (let times = 0; times < 3; times++) {
    const { status, headers } = await submit("1".repeat(3_000_001));
    expect([status, headers.ratelimit]).toEqual([413, undefined]);
  }
  const tooLarge = await submit("1".repeat(11));
  expect(tooLarge.status).toBe(413);
  expect(tooLarge.headers.ratelimit).toContain('"requests";r=1');
  expect((await submit("1".repeat(10))).status).toBe(202);
  expect((await submit("2")).status).toBe(429);
});

it("the inspection page counts with the API", async () => {
  api = testApi({ rates: { requestsPerMinute: 2, bytesPerMinute: 1_000 } });
  for (const path of ["/", "/v1/submissions"]) expect((await request(api.app).get(path)).status).toBe(200);
  for (const path of ["/", "/v1/submissions"]) expect((await request(api.app).get(path)).status).toBe(429);
});

it("a body that does not state its length is charged afterwards", async () => {
  api = testApi({ rates: { requestsPerMinute: 100, bytesPerMinute: 500 } });
  const chunked = request(api.app).post("/v1/submissions").type("text/csv").set("Transfer-Encoding", "chunked");
  chunked.write("1".repeat(600));
  expect((await chunked).status).toBe(202);
  await expect.poll(async () => (await request(api.app).get("/v1/events")).headers.ratelimit).toContain('"bytes";r=0');
});

it("nothing more is taken in while too much is waiting", async () => {
  api = testApi({ backlog: 1 });
  expect((await submit()).status).toBe(202);
  await new Promise((resolve) => setTimeout(resolve, 1_050));
  const refused = await submit();
  expect(refused.status).toBe(503);
  expect(refused.body.code).toBe("queue-full");
  expect(refused.headers["retry-after"]).toBe("30");
});

it("JSON that is large is not parsed at the door, where parsing it would hold up everybody", async () => {
  api = testApi();
  const broken = (length: number) => request(api.app).post("/v1/submissions").type("json").send("[".repeat(length));
  expect((await broken(200_000)).body.code).toBe("json-broken");
  expect((await broken(400_000)).status).toBe(202);
  const part = request(api.app).post("/v1/submissions");
  const whole = { filename: "a.json", contentType: "application/json" };
  expect((await part.attach("document", Buffer.alloc(400_000, "["), whole)).status).toBe(202);
});
