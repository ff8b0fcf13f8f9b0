import request from "supertest";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type TestApi, testApi } from "../support/test-api.js";

/** Of two limits under one name a parser would hold the last and drop the first without a word. */
let api: TestApi;
beforeAll(() => {
  api = testApi();
});
afterAll(() => api.remove());

const TWICE =
  '{"requirement":1,"name":"T-204","limits":[{"quantity":"C","max":"0.030","unit":"%","source":"4.2","max":"0.08"}]}';
const AT = { pointer: "/limits/0/max", detail: "stands there twice; leave one out" };

it.each<[what: string, send: () => request.Test]>([
  ["a requirement to keep", () => request(api.app).put("/v1/requirements/t-204").type("json").send(TWICE)],
  [
    "a requirement to keep, in another encoding",
    () =>
      request(api.app)
        .put("/v1/requirements/t-204")
        .type("application/json; charset=utf-16le")
        .serialize((body) => body)
        .send(Buffer.from(TWICE, "utf16le") as unknown as string),
  ],
  [
    "a requirement as a part",
    () =>
      request(api.app)
        .post("/v1/submissions")
        .attach("document", Buffer.from("N 0.02"), "a.txt")
        .field("requirement", TWICE),
  ],
])("%s is refused where a name stands twice, with its place", async (_what, send) => {
  const { status, body } = await send();
  expect([status, body.code, body.errors]).toEqual([400, "json-broken", [AT]]);
});

it.each([
  ["post", "/v1/keys"],
  ["post", "/v1/endpoints"],
] as const)("%s %s likewise", async (method, path) => {
  const answer = await request(api.app)[method](path).type("json").send('{"name":"a","name":"b"}');
  expect([answer.body.code, answer.body.errors?.[0].pointer]).toEqual(["json-broken", "/name"]);
});

it("one name each in two objects is no repetition", async () => {
  const sound = TWICE.replace(',"max":"0.08"', "").replace("]", ',{"quantity":"S","max":"0.010","unit":"%"}]');
  expect((await request(api.app).put("/v1/requirements/t-204").type("json").send(sound)).status).toBe(201);
});
