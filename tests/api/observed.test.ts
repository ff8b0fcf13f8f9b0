import { Registry } from "prom-client";
import request from "supertest";
import { afterEach, beforeEach, expect, it } from "vitest";
import { type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
const registry = new Registry();
beforeEach(() => {
  registry.clear();
  api = testApi({ registry });
});
afterEach(() => api.remove());

const requestLines = () =>
  api
    .logged()
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => JSON.parse(line))
    .filter(({ req }) => req);

it("each request is one line: its route, whose it was, how it ended, how long it took", async () => {
  await request(api.app).get("/v1/submissions/0199d3a0-0000-7000-8000-000000000000?token=PLANTED");
  await request(api.app).get("/livez");
  const lines = requestLines();
  expect(lines).toHaveLength(2);
  expect(lines[0]).toMatchObject({ route: "/v1/submissions/:id", client: "tarnholm", res: { status: 404 } });
  expect(lines[0].responseTime).toEqual(expect.any(Number));
  expect(lines[0].req.id).toEqual(expect.any(String));
  expect(api.logged().match(/"route":/g)).toHaveLength(2);
  expect(lines[1]).toMatchObject({ route: "/livez", res: { status: 200 } });
});

it("keys, secrets and contents that are sent do not come into the log", async () => {
  await request(api.app)
    .post("/v1/submissions?name=PLANTED.csv")
    .set({ Authorization: "Bearer PLANTED", Cookie: "heatgate_key=PLANTED", "Content-Type": "text/csv" })
    .send("PLANTED;1");
  await request(api.app)
    .post("/v1/submissions")
    .field("callback", '{"url":"https://receiver.example/PLANTED","secret":"whsec_UExBTlRFRA=="}')
    .attach("document", Buffer.from("PLANTED;1"), "PLANTED.csv");
  expect(requestLines()).toHaveLength(2);
  expect(api.logged()).not.toMatch(/PLANTED|UExBTlRFRA/);
});

it("an answer that breaks off is logged without what hangs on its error", async () => {
  const broken = Object.assign(new Error("broken"), { command: { args: ["PLANTED"] } });
  api = testApi({
    registry: new Registry(),
    listAudit: async () => {
      throw broken;
    },
  });
  expect((await request(api.app).get("/v1/audit")).status).toBe(500);
  const [fault, line] = api
    .logged()
    .trim()
    .split("\n")
    .map((text) => JSON.parse(text));
  expect(fault).toMatchObject({ msg: "a request ran into a fault", err: { type: "Error", message: "broken" } });
  expect(line.err).toMatchObject({ type: "Error", stack: expect.stringMatching(/^at /) });
  expect(api.logged()).not.toContain("PLANTED");
});

it("requests are timed by method, route as written, and status", async () => {
  await request(api.app).get("/v1/submissions/0199d3a0-0000-7000-8000-000000000000");
  await request(api.app).get("/nowhere/at/all");
  const text = await registry.metrics();
  const count = (labels: string) => `http_server_request_duration_seconds_count{${labels}} 1`;
  expect(text).toContain(
    count('http_request_method="GET",http_route="/v1/submissions/:id",http_response_status_code="404"'),
  );
  expect(text).toContain(count('http_request_method="GET",http_route="none",http_response_status_code="404"'));
});
