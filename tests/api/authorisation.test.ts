import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openapiDocument } from "../../api/openapi/document.js";
import { SCOPES, type Scope } from "../../worker/store/keys.js";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

/** Written by hand, beside what the code and the document say: who may do what. */
const MATRIX: Readonly<Record<string, Scope | "anybody">> = {
  "GET /livez": "anybody",
  "GET /startupz": "anybody",
  "GET /readyz": "anybody",
  "GET /v1/openapi.json": "anybody",
  "GET /problems/{code}": "anybody",
  "POST /v1/submissions": "submit",
  "GET /v1/submissions": "read",
  "GET /v1/submissions/{id}": "read",
  "GET /v1/submissions/{id}/report": "read",
  "GET /v1/submissions/{id}/report/signature": "read",
  "GET /v1/submissions/{id}/documents/{sha256}": "read",
  "GET /v1/submissions/{id}/erasure": "read",
  "POST /v1/submissions/{id}/erasure": "admin",
  "GET /v1/submissions/{id}/deliveries": "read",
  "POST /v1/submissions/{id}/deliveries": "submit",
  "GET /v1/events": "read",
  "GET /v1/submissions/{id}/decisions": "read",
  "POST /v1/submissions/{id}/decisions": "decide",
  "POST /v1/submissions/{id}/corrections": "decide",
  "POST /v1/submissions/{id}/dry-runs": "read",
  "GET /v1/submissions/{id}/dry-runs/{dryRun}": "read",
  "GET /v1/submissions/{id}/grades": "read",
  "GET /v1/audit": "read",
  "GET /v1/heats": "read",
  "POST /v1/comparisons": "read",
  "GET /v1/heat-history": "read",
  "GET /v1/grades": "read",
  "GET /v1/grades/{standard}/{edition}/{grade}": "read",
  "GET /v1/requirements": "read",
  "GET /v1/requirements/{slug}": "read",
  "PUT /v1/requirements/{slug}": "decide",
  "DELETE /v1/requirements/{slug}": "decide",
  "POST /v1/requirements/{slug}/restore": "decide",
  "GET /v1/requirements/{slug}/versions": "read",
  "GET /v1/requirements/{slug}/versions/{version}": "read",
  "GET /v1/requirements/{slug}/difference": "read",
  "GET /v1/keys": "admin",
  "POST /v1/keys": "admin",
  "GET /v1/endpoints": "admin",
  "POST /v1/endpoints": "admin",
  "GET /v1/endpoints/{id}": "admin",
  "PATCH /v1/endpoints/{id}": "admin",
  "DELETE /v1/endpoints/{id}": "admin",
  "POST /v1/endpoints/{id}/secrets": "admin",
  "POST /v1/endpoints/{id}/test": "admin",
  "POST /v1/endpoints/{id}/replay": "admin",
  "GET /v1/endpoints/{id}/deliveries": "admin",
  "GET /.well-known/jwks.json": "anybody",
  "POST /v1/signing-keys": "operate",
  "DELETE /v1/signing-keys/{keyId}": "operate",
  "DELETE /v1/keys/{id}": "admin",
};

const operations = Object.entries(openapiDocument([]).paths ?? {}).flatMap(([path, methods]) =>
  Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
);

let api: TestApi;
beforeEach(() => {
  api = testApi();
});
afterEach(() => api.remove());

const keyWith = async (client: string, scopes: readonly Scope[]) =>
  `Bearer ${(await api.keys.create({ client, name: "test", scopes }, "tests")).key}`;

async function statusOf(operation: string, authorization: string, id = "0197b2c4-0000-7000-8000-000000000000") {
  const [method = "", template = ""] = operation.split(" ");
  const path = template
    .replace("{id}", id)
    .replace("{sha256}", "0".repeat(64))
    .replace("{code}", "fault")
    .replace("{keyId}", "none")
    .replace("{slug}", "a")
    .replace("{version}", "1");
  const send = request(api.app)[method.toLowerCase() as "get"](path).set("Authorization", authorization);
  return await (method === "GET" ? send : send.send({}));
}

describe("who may do what", () => {
  it("is written down for every operation", () => {
    expect(operations.sort()).toEqual(Object.keys(MATRIX).sort());
  });

  it.each(Object.entries(MATRIX))("%s wants %s", async (operation, wanted) => {
    const without = await statusOf(operation, "none");
    expect(without.status === 401).toBe(wanted !== "anybody");
    if (without.status === 401) expect(without.headers["www-authenticate"]).toMatch(/^Bearer/);
    for (const scope of SCOPES) {
      const response = await statusOf(operation, await keyWith(`client-${scope}`, [scope]));
      expect(response.status === 403, `${scope}: ${response.status}`).toBe(wanted !== "anybody" && wanted !== scope);
      expect(response.status).not.toBe(401);
    }
  });
});

describe("two clients", () => {
  const submit = (authorization: string) =>
    request(api.app)
      .post("/v1/submissions")
      .set("Authorization", authorization)
      .set("Idempotency-Key", '"same"')
      .type("text/csv")
      .send("Heat;C");

  it("see nothing of each other, by any operation", async () => {
    const ours = await keyWith("ours", ["submit", "read"]);
    const theirs = await keyWith("theirs", SCOPES);
    const { body } = await submit(ours);
    await api.records.finish(body.id, finishedReport("fail"));

    for (const operation of operations.filter((candidate) => candidate.includes("/submissions/{id}"))) {
      const response = await statusOf(operation, theirs, body.id);
      expect(response.status, operation).toBe(404);
      expect(response.body.code).toBe("submission-unknown");
    }
    for (const path of ["/v1/submissions", "/v1/events"]) {
      const mine = await request(api.app).get(path).set("Authorization", ours);
      const other = await request(api.app).get(path).set("Authorization", theirs);
      expect([mine.body.items.length, other.body.items.length]).toEqual([1, 0]);
    }
  });

  it("may use the same Idempotency-Key", async () => {
    const first = await submit(await keyWith("ours", ["submit"]));
    const second = await submit(await keyWith("theirs", ["submit"]));
    expect(second.status).toBe(202);
    expect(second.body.id).not.toBe(first.body.id);
  });

  it("share what is theirs among their own keys", async () => {
    const { body } = await submit(await keyWith("ours", ["submit"]));
    const response = await statusOf("GET /v1/submissions/{id}", await keyWith("ours", ["read"]), body.id);
    expect(response.status).toBe(200);
  });
});

describe("a key", () => {
  const make = (more: object = {}) =>
    request(api.app)
      .post("/v1/keys")
      .send({ client: "yard", name: "ERP", scopes: ["read"], ...more });

  it("is told once, recognisable, and works", async () => {
    const made = await make();
    expect(made.status).toBe(201);
    expect(made.body.key).toMatch(/^hg_live_[0-9A-Za-z]{49}$/);
    expect(made.headers["cache-control"]).toBe("no-store");
    expect((await statusOf("GET /v1/events", `Bearer ${made.body.key}`)).status).toBe(200);
    const listed = await request(api.app).get("/v1/keys");
    expect(listed.text).not.toContain(made.body.key);
    expect(listed.text).toContain(made.body.key.slice(0, 12));
    expect(api.logged()).not.toContain(made.body.key);
  });

  it("stops working when it is revoked", async () => {
    const made = await make();
    expect((await request(api.app).delete(`/v1/keys/${made.body.id}`)).status).toBe(204);
    expect((await statusOf("GET /v1/events", `Bearer ${made.body.key}`)).body.code).toBe("key-unknown");
    expect((await request(api.app).delete(`/v1/keys/${made.body.id}`)).body.code).toBe("key-id-unknown");
  });

  it("stops working when it expires", async () => {
    const made = await make({ expiresAt: new Date(Date.now() + 1_500).toISOString() });
    const now = async () => (await statusOf("GET /v1/events", `Bearer ${made.body.key}`)).status;
    expect(await now()).toBe(200);
    await expect.poll(now, { timeout: 5_000 }).toBe(401);
  });

  it("is not made where it would never work, or where its names would steer a terminal or look like others", async () => {
    const past = await make({ expiresAt: new Date(Date.now() - 1_000).toISOString() });
    expect(past.body).toMatchObject({ code: "key-invalid", errors: [{ pointer: "/expiresAt" }] });
    for (const name of ["\u001b[2J", "two\nlines", "\u202eyrots", " "]) {
      for (const member of ["client", "name"]) {
        const { body } = await make({ [member]: name });
        expect(body).toMatchObject({ code: "key-invalid", errors: [{ pointer: `/${member}` }] });
      }
    }
  });

  it("has room for one successor, not two", async () => {
    const first = await make();
    await make();
    expect((await make()).body.code).toBe("too-many-keys");
    await request(api.app).delete(`/v1/keys/${first.body.id}`);
    expect((await make()).status).toBe(201);
  });
});

describe("the keys of another client", () => {
  const ask = (authorization: string) => ({
    list: () => request(api.app).get("/v1/keys").set("Authorization", authorization),
    make: (client: string, scopes: readonly Scope[]) =>
      request(api.app).post("/v1/keys").set("Authorization", authorization).send({ client, name: "ERP", scopes }),
    revoke: (id: string) => request(api.app).delete(`/v1/keys/${id}`).set("Authorization", authorization),
  });

  it("are out of an administrator's reach", async () => {
    const admin = ask(await keyWith("ours", ["admin", "read"]));
    const { record } = await api.keys.create({ client: "theirs", name: "ERP", scopes: ["read"] }, "tests");

    const { body } = await admin.list();
    expect(body.items.map(({ client }: { client: string }) => client)).toEqual(["ours"]);
    expect((await admin.make("theirs", ["read"])).body.code).toBe("scope-missing");
    expect((await admin.revoke(record.id)).body.code).toBe("key-id-unknown");
    expect((await api.keys.list("theirs")).map(({ revokedAt }) => revokedAt)).toEqual([undefined]);
  });

  it("are in the reach of who operates the installation", async () => {
    const operator = ask(await keyWith("ours", ["admin", "operate"]));
    const made = await operator.make("theirs", ["submit", "read"]);
    expect(made.status).toBe(201);
    const { body } = await operator.list();
    expect(body.items.map(({ client }: { client: string }) => client)).toEqual(
      expect.arrayContaining(["ours", "theirs"]),
    );
    expect((await operator.revoke(made.body.id)).status).toBe(204);
  });

  it("nobody makes a key that may do more than their own", async () => {
    const admin = ask(await keyWith("ours", ["admin", "read"]));
    for (const scope of ["submit", "decide", "operate"] as const) {
      const refused = await admin.make("ours", ["read", scope]);
      expect([refused.status, refused.body.code]).toEqual([403, "scope-missing"]);
    }
    expect((await admin.make("ours", ["read", "admin"])).status).toBe(201);
  });
});

describe("a key in the cookie of our own page", () => {
  it("reads, and changes things only from our own page", async () => {
    const { key } = await api.keys.create({ client: "yard", name: "page", scopes: ["submit", "read"] }, "tests");
    const cookie = `heatgate_key=${key}`;
    const read = await request(api.app).get("/v1/events").set("Cookie", cookie).set("Authorization", "");
    expect(read.status).toBe(200);
    const submit = (site: string) =>
      request(api.app)
        .post("/v1/submissions")
        .set({ Cookie: cookie, Authorization: "", "Sec-Fetch-Site": site })
        .type("text/csv")
        .send("Heat;C");
    expect((await submit("cross-site")).body.code).toBe("cross-site");
    expect((await submit("same-site")).body.code).toBe("cross-site");
    expect((await submit("same-origin")).status).toBe(202);
  });
});
