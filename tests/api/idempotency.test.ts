import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { idempotencyKey } from "../../api/requests/idempotency.js";
import type { Records } from "../../worker/store/records.js";
import { type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
beforeEach(() => {
  api = testApi();
});
afterEach(() => {
  expect(api.uploads()).toEqual([]);
  api.remove();
});

const send = (key: string, text: string, requirement = '{"requirement":1,"name":"a"}') =>
  request(api.app)
    .post("/v1/submissions")
    .set("Idempotency-Key", key)
    .attach("document", Buffer.from(text), "a.csv")
    .field("requirement", requirement);

describe("a submission sent again under the same key", () => {
  it("is the same submission, and says so", async () => {
    const first = await send('"k1"', "Heat;C");
    const again = await send('"k1"', "Heat;C");
    expect(again.body.id).toBe(first.body.id);
    expect(first.headers["idempotency-replayed"]).toBeUndefined();
    expect(again.headers["idempotency-replayed"]).toBe("true");
    expect(api.records.kept.size).toBe(1);
  });

  it("is the same when the requirement is only written differently", async () => {
    const first = await send('"k1"', "Heat;C", '{"requirement":1,"name":"a"}');
    const again = await send('"k1"', "Heat;C", '{ "name": "a",  "requirement": 1 }');
    expect(again.body.id).toBe(first.body.id);
  });

  it.each([
    ["with another document", "Heat;Mn", '{"requirement":1,"name":"a"}'],
    ["with another requirement", "Heat;C", '{"requirement":1,"name":"b"}'],
  ])("%s is refused", async (_what, text, requirement) => {
    await send('"k1"', "Heat;C");
    const again = await send('"k1"', text, requirement);
    expect(again.status).toBe(422);
    expect(again.body.code).toBe("idempotency-key-reused");
    expect(api.records.kept.size).toBe(1);
  });

  it("while the first is still being taken in is refused for the moment", async () => {
    let release = () => {};
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    const create = api.records.createSubmission.bind(api.records);
    const isHeld = new Promise<void>((resolve) => {
      api.records.createSubmission = async (submission) => {
        resolve();
        await held;
        return await create(submission);
      };
    });
    const first = send('"k1"', "Heat;C").then((response) => response);
    await isHeld;
    const meanwhile = await send('"k1"', "Heat;C");
    expect(meanwhile.status).toBe(409);
    expect(meanwhile.body.code).toBe("idempotency-key-in-use");
    release();
    expect((await first).status).toBe(202);
    expect((await send('"k1"', "Heat;C")).body.id).toBe((await first).body.id);
  });

  it("under another key is another submission", async () => {
    const first = await send('"k1"', "Heat;C");
    const second = await send('"k2"', "Heat;C");
    expect(second.body.id).not.toBe(first.body.id);
  });

  it("after a refusal may be sent corrected: the refusal used no key up", async () => {
    expect((await send('"k1"', "")).status).toBe(422);
    expect((await send('"k1"', "Heat;C")).status).toBe(202);
  });
});

describe("the same handed in again without a key", () => {
  const again = (query = "") => request(api.app).post(`/v1/submissions${query}`).type("text/csv").send("Heat;C");

  it("is answered with the submission that is there", async () => {
    const first = await again();
    const second = await again();
    expect(first.headers["heatgate-duplicate"]).toBeUndefined();
    expect(second.headers["heatgate-duplicate"]).toBe("true");
    expect(second.body.id).toBe(first.body.id);
  });

  it("is judged anew where that is asked for, or the first one failed, or the grades have changed", async () => {
    const first = await again();
    const second = await again("?again=true");
    expect(second.body.id).not.toBe(first.body.id);
    for (const { body } of [first, second]) await api.records.fail(body.id, { code: "fault", message: "It failed." });
    expect((await again()).headers["heatgate-duplicate"]).toBeUndefined();

    const later = testApi({ records: api.records as unknown as Records, libraryDigest: "confirmed" });
    const response = await request(later.app).post("/v1/submissions").type("text/csv").send("Heat;C");
    expect(response.headers["heatgate-duplicate"]).toBeUndefined();
    later.remove();
  });

  it("with a callback is another submission, since its receiver has to be told", async () => {
    const send = () =>
      request(api.app)
        .post("/v1/submissions")
        .attach("document", Buffer.from("Heat;C"), "a.csv")
        .field("callback", '{"url":"https://receiver.example/a"}');
    expect((await send()).body.id).not.toBe((await send()).body.id);
  });
});

it("a replay tells the made secret again: the first answer may be the one that was lost", async () => {
  const sendWithCallback = () =>
    request(api.app)
      .post("/v1/submissions")
      .set("Idempotency-Key", '"k"')
      .attach("document", Buffer.from("Heat;C"), "a.csv")
      .field("callback", '{"url":"https://receiver.example/a"}');
  const first = await sendWithCallback();
  const replay = await sendWithCallback();
  expect(replay.headers["idempotency-replayed"]).toBe("true");
  expect(replay.body.callback).toEqual(first.body.callback);
});

describe("the header", () => {
  it.each([
    ['"abc"', "abc"],
    ["abc", "abc"],
    ['"a\\"b"', 'a"b'],
    ["a".repeat(255), "a".repeat(255)],
  ])("%s means %s", (header, key) => {
    expect(idempotencyKey(header)).toBe(key);
  });

  it.each([
    ["empty", '""'],
    ["too long", "a".repeat(256)],
    ["not ASCII", "ü"],
  ])("that is %s is refused", (_what, header) => {
    expect(() => idempotencyKey(header)).toThrow();
  });
});
