import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
const ids: string[] = [];

beforeEach(async () => {
  api = testApi();
  ids.length = 0;
  for (const order of ["1", "2", "1", "1"]) {
    const response = await request(api.app)
      .post("/v1/submissions")
      .attach("document", Buffer.from(`Heat;C\nH${ids.length};0,02\n`), "a.csv")
      .field("tags", JSON.stringify({ order, item: "10" }));
    ids.push(response.body.id);
  }
  await api.records.finish(ids[0]!, finishedReport("fail"));
  await api.records.fail(ids[1]!, { code: "document-broken", message: "It ends in the middle." });
});
afterEach(() => api.remove());

const idsOf = (response: { body: { items: { id: string }[] } }) => response.body.items.map(({ id }) => id);

describe("the list of submissions", () => {
  it("is newest first and walks page by page along its own links", async () => {
    const first = await request(api.app).get("/v1/submissions?limit=3&tag=item:10");
    expect(idsOf(first)).toEqual([ids[3], ids[2], ids[1]]);
    const second = await request(api.app).get(first.body.next);
    expect(idsOf(second)).toEqual([ids[0]]);
    expect(second.body.next).toBeUndefined();
  });

  it.each([
    ["state=failed", [1]],
    ["verdict=fail", [0]],
    ["tag=order:1", [3, 2, 0]],
    ["tag=order:1&tag=item:10&state=done", [0]],
    ["tag=order:9", []],
  ])("by %s", async (query, expected) => {
    const response = await request(api.app).get(`/v1/submissions?${query}`);
    expect(idsOf(response)).toEqual(expected.map((index) => ids[index]));
  });
});

describe("the event feed", () => {
  it("tells everything once, from where the reader was", async () => {
    const first = await request(api.app).get("/v1/events?limit=1");
    expect(first.body.items).toMatchObject([{ type: "submission.done", submission: ids[0] }]);
    const second = await request(api.app).get(`/v1/events?after=${first.body.next}`);
    expect(second.body.items).toMatchObject([{ type: "submission.failed", submission: ids[1] }]);
    const third = await request(api.app).get(`/v1/events?after=${second.body.next}`);
    expect(third.body).toEqual({ items: [], next: second.body.next });
  });
});

describe("deliveries", () => {
  it("of a submission without callback are none, and none can be asked for", async () => {
    const path = `/v1/submissions/${ids[0]}/deliveries`;
    expect((await request(api.app).get(path)).body).toEqual({ items: [] });
    expect((await request(api.app).post(path)).body.code).toBe("receiver-missing");
  });
});
