import request from "supertest";
import { afterEach, beforeEach, expect, it } from "vitest";
import { type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
beforeEach(() => {
  api = testApi();
});
afterEach(() => api.remove());

it.each([
  ["the database refuses connections", Object.assign(new Error("connect"), { code: "ECONNREFUSED" })],
  ["the database shuts down", Object.assign(new Error("terminating connection"), { code: "57P01" })],
  ["the database is lost in the middle", new Error("Connection terminated unexpectedly")],
  ["the database keeps silent", new Error("Query read timeout")],
  ["the disk is full", Object.assign(new Error("no space left on device"), { code: "ENOSPC" })],
])("%s: a submission is refused for the moment, and is there when it is sent again", async (_what, outage) => {
  const submit = () => request(api.app).post("/v1/submissions").type("text/csv").send("Heat;C");
  api.records.unreachable = outage;
  const refused = await submit();
  expect(refused.status).toBe(503);
  expect(refused.body.code).toBe("store-unavailable");
  expect(refused.headers["retry-after"]).toBe("5");
  expect(api.records.kept.size).toBe(0);
  expect(api.uploads()).toEqual([]);

  api.records.unreachable = undefined;
  expect((await submit()).status).toBe(202);
});

it("a probe is answered although the database keeps silent", async () => {
  api.records.check = () => new Promise(() => {});
  const probed = await request(api.app).get("/readyz");
  expect(probed.status).toBe(503);
  expect(probed.body.code).toBe("store-unavailable");
});
