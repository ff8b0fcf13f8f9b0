import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { SCOPES } from "../../worker/store/keys.js";
import { type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
beforeEach(() => {
  api = testApi();
});
afterEach(() => api.remove());

const URL_TAKEN = "https://receiver.example/hooks";
const create = (more: object = {}) =>
  request(api.app)
    .post("/v1/endpoints")
    .send({ url: URL_TAKEN, ...more });

describe("an endpoint", () => {
  it("is registered with sensible settings, and tells its secret once", async () => {
    const made = await create();
    expect(made.status).toBe(201);
    expect(made.headers.location).toBe(made.body.links.self);
    expect(made.body).toMatchObject({ events: null, body: "thin", state: "active", signatures: [{ kind: "v1" }] });
    expect(made.body.secret).toMatch(/^whsec_/);
    const read = await request(api.app).get(made.body.links.self);
    expect(read.body.secret).toBeUndefined();
    expect(read.headers["cache-control"]).toBe("no-store");
    const listed = await request(api.app).get("/v1/endpoints");
    expect(listed.body.items).toEqual([read.body]);
    expect(api.logged()).not.toContain(made.body.secret);
  });

  it("with v1a tells no secret", async () => {
    const { body } = await create({ signature: "v1a" });
    expect(body.secret).toBeUndefined();
    expect(body.signatures).toMatchObject([{ kind: "v1a", publicKey: expect.stringMatching(/^whpk_/) }]);
  });

  it.each<[what: string, more: object, code: string, pointer: string]>([
    ["an address that is not called", { url: "http://169.254.169.254/" }, "callback-refused", "/url"],
    ["a type of event that is not known", { events: ["heat.melted"] }, "endpoint-invalid", "/events/0"],
    ["no types", { events: [] }, "endpoint-invalid", "/events"],
    ["a type twice", { events: ["heat.failed", "heat.failed"] }, "endpoint-invalid", "/events"],
    ["a secret that is too short", { secret: "whsec_c2hvcnQ=" }, "endpoint-invalid", "/secret"],
    ["a secret for v1a", { signature: "v1a", secret: `whsec_${"A".repeat(43)}=` }, "endpoint-invalid", "/secret"],
    ["a field that is not known", { colour: "red" }, "endpoint-invalid", "/colour"],
  ])("is refused for %s", async (_, more, code, pointer) => {
    const { status, body } = await create(more);
    expect([status, body.code, body.errors[0].pointer]).toEqual([422, code, pointer]);
  });

  it("is changed in what is named, and back to every type", async () => {
    const { body } = await create({ events: ["heat.failed"] });
    const change = (more: object) => request(api.app).patch(body.links.self).send(more);
    expect((await change({ body: "full" })).body).toMatchObject({
      body: "full",
      events: ["heat.failed"],
      url: URL_TAKEN,
    });
    expect((await change({ events: null })).body.events).toBeNull();
    expect((await change({ url: "https://elsewhere.example/" })).body.code).toBe("callback-refused");
    expect((await change({})).body.code).toBe("endpoint-invalid");
    expect((await change({ state: "disabled" })).body).toMatchObject({ state: "disabled", disabledBecause: "asked" });
  });

  it("is tested and replayed while it is active", async () => {
    const { body } = await create();
    const post = (path: string, sent: object = {}) => request(api.app).post(`${body.links.self}/${path}`).send(sent);
    expect((await post("test")).status).toBe(202);
    expect((await post("replay", { since: "2026-11-25T09:00:00Z" })).body).toEqual({ deliveries: 0 });
    expect((await post("replay", { since: "yesterday" })).body.code).toBe("endpoint-invalid");
    await request(api.app).patch(body.links.self).send({ state: "disabled" });
    expect((await post("test")).body.code).toBe("endpoint-disabled");
    expect((await post("replay", { since: "2026-11-25T09:00:00Z" })).body.code).toBe("endpoint-disabled");
  });

  it("gets another secret, with no body or with one", async () => {
    const { body } = await create();
    const rotated = await request(api.app).post(`${body.links.self}/secrets`);
    expect(rotated.status).toBe(201);
    expect(rotated.body.secret).not.toBe(body.secret);
    expect(rotated.body.signatures).toHaveLength(2);
    const own = await request(api.app).post(`${body.links.self}/secrets`).send({ oldForHours: 200 });
    expect(own.body.errors[0].pointer).toBe("/oldForHours");
  });

  it("is deleted, and then unknown to every operation", async () => {
    const { body } = await create();
    expect((await request(api.app).delete(body.links.self)).status).toBe(204);
    for (const answer of [
      await request(api.app).get(body.links.self),
      await request(api.app).delete(body.links.self),
      await request(api.app).get(body.links.deliveries),
      await request(api.app).patch(body.links.self).send({ body: "full" }),
      await request(api.app).post(`${body.links.self}/test`),
    ])
      expect([answer.status, answer.body.code]).toEqual([404, "endpoint-unknown"]);
  });

  it("is one of twenty", async () => {
    for (let count = 0; count < 20; count++) await create();
    expect((await create()).body.code).toBe("too-many-endpoints");
  });

  it("of another client is unknown to every operation", async () => {
    const { body } = await create();
    const { key } = await api.keys.create({ client: "other", name: "all", scopes: SCOPES }, "tests");
    const answers = [
      request(api.app).get(body.links.self),
      request(api.app).patch(body.links.self).send({ body: "full" }),
      request(api.app).delete(body.links.self),
      request(api.app).post(`${body.links.self}/secrets`).send({}),
      request(api.app).post(`${body.links.self}/test`),
      request(api.app).post(`${body.links.self}/replay`).send({ since: "2026-11-25T09:00:00Z" }),
      request(api.app).get(body.links.deliveries),
    ];
    for (const answer of answers) {
      const { status, body: problem } = await answer.set("Authorization", `Bearer ${key}`);
      expect([status, problem.code]).toEqual([404, "endpoint-unknown"]);
    }
    const listed = await request(api.app).get("/v1/endpoints").set("Authorization", `Bearer ${key}`);
    expect(listed.body.items).toEqual([]);
  });
});

describe("signing keys", () => {
  const keySet = async () => (await request(api.app).get("/.well-known/jwks.json").set("Authorization", "none")).body;

  it("are published without an API key, rotated and revoked by admins", async () => {
    const [first] = (await keySet()).keys;
    const made = await request(api.app).post("/v1/signing-keys");
    expect(made.status).toBe(201);
    expect((await keySet()).keys.map(({ kid }: { kid: string }) => kid)).toEqual([made.body.kid, first.kid]);
    expect((await request(api.app).delete(`/v1/signing-keys/${first.kid}`)).status).toBe(204);
    const after = await keySet();
    expect(after.keys.map(({ kid }: { kid: string }) => kid)).toEqual([made.body.kid]);
    expect(after.revoked).toMatchObject([{ kid: first.kid }]);
    const again = await request(api.app).delete(`/v1/signing-keys/${first.kid}`);
    expect(again.body.code).toBe("signing-key-unknown");
  });
});
