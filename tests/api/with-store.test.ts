import { Webhook } from "standardwebhooks";
import request from "supertest";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { ReportInput } from "../../core/report/build-report.js";
import type { Report } from "../../core/report/report.js";
import { type AuditEntry, faultInChain } from "../../worker/store/audit-chain.js";
import { openDecisions } from "../../worker/store/sql-decisions.js";
import { openKeys } from "../../worker/store/sql-keys.js";
import { openRequirements } from "../../worker/store/sql-requirements.js";
import type { Stores } from "../../worker/store/stores.js";
import { namingVerifier, sha256 } from "../support/invented.js";
import { startReceiver } from "../support/receiver.js";
import { type StoredApi, storedApi } from "../support/stored-api.js";
import { storedHeat, storedReading } from "../support/stored-heat.js";

let stored: StoredApi;
let stores: Stores;
let api: StoredApi["api"];
let ours: string;
let theirs: string;

beforeAll(async () => {
  const verifier = { ...namingVerifier(), buildReport: reportNamedHeats };
  stored = await storedApi(verifier, { callbackProblem: () => undefined });
  ({ api, stores } = stored);
  const { keys } = stored;
  ours = `Bearer ${(await keys.create({ client: "tarnholm", name: "a", scopes: ["submit", "read"] }, "tests")).key}`;
  theirs = `Bearer ${(await keys.create({ client: "other", name: "a", scopes: ["submit", "read"] }, "tests")).key}`;
});
afterAll(() => stored.close());

/** "heat …" is of that heat, which fails; "carbon …" of one that passes with 0.020 % carbon; others have no heat. */
function reportNamedHeats(input: ReportInput): Report {
  const report = namingVerifier().buildReport(input);
  const heats = input.documents.flatMap(({ name }) => /^heat (.+)$/.exec(name)?.[1] ?? []);
  return {
    ...report,
    documents: report.documents.map((document) => ({ ...document, issuer: "Norrvik Steel" })),
    heats: [
      ...heats.map((heat) => ({ heat, verdict: "fail" as const, grades: [], readings: [], findings: [] })),
      ...input.documents.flatMap(({ name }) => {
        const heat = /^carbon (.+)$/.exec(name)?.[1];
        return heat === undefined ? [] : [storedHeat(heat, "304L", [storedReading("C", "0.020")])];
      }),
    ],
  };
}

const submit = (text: string, headers: Record<string, string> = {}) =>
  request(api.app)
    .post("/v1/submissions")
    .set({ Authorization: ours, ...headers })
    .attach("document", Buffer.from(text), "cert.csv")
    .field("tags", '{"order":"4500012"}');
const get = (path: string, authorization = ours) => request(api.app).get(path).set("Authorization", authorization);

it("hands in, waits, and reads report, document, list and event", async () => {
  const done = await submit("Heat;C\nH1;0,02\n", { Prefer: "wait=20" });
  expect(done.status).toBe(200);
  expect(done.body).toMatchObject({ state: "done", verdict: "undetermined" });

  const report = await get(done.body.links.report);
  expect(report.headers.etag).toBe(`"${sha256(report.text)}"`);
  const document = await get(done.body.documents[0].link).buffer();
  expect(document.body.toString()).toBe("Heat;C\nH1;0,02\n");
  const listed = await get("/v1/submissions?tag=order:4500012&verdict=undetermined");
  expect(listed.body.items[0].id).toBe(done.body.id);
  const events = await get("/v1/events");
  expect(events.body.items.at(-1)).toMatchObject({ submission: done.body.id, type: "submission.done" });
});

it("keeps clients apart in the store", async () => {
  const { body } = await submit("Heat;C\nH2;0,02\n", { Prefer: "wait=20" });
  for (const path of [body.links.self, body.links.report, body.documents[0].link, `${body.links.self}/deliveries`]) {
    expect((await get(path, theirs)).status, path).toBe(404);
  }
  expect((await get("/v1/submissions", theirs)).body.items).toEqual([]);
  expect((await get("/v1/events", theirs)).body.items).toEqual([]);
});

it("answers a repeated key with the first submission, also when both come at once", async () => {
  const [one, two] = await Promise.all([
    submit("Heat;C\nH3;0,02\n", { "Idempotency-Key": '"k"' }),
    submit("Heat;C\nH3;0,02\n", { "Idempotency-Key": '"k"' }),
  ]);
  const accepted = [one, two].filter(({ status }) => status < 300);
  expect(new Set(accepted.map(({ body }) => body.id)).size).toBe(1);
  const later = await submit("Heat;C\nH3;0,02\n", { "Idempotency-Key": '"k"' });
  expect(later.headers["idempotency-replayed"]).toBe("true");
  expect(later.body.id).toBe(accepted[0]!.body.id);
  expect((await submit("Heat;C\nH4;0,02\n", { "Idempotency-Key": '"k"' })).body.code).toBe("idempotency-key-reused");
});

it("knows the same content again in the store, unless it is asked to judge anew", async () => {
  const send = (query = "") =>
    request(api.app)
      .post(`/v1/submissions${query}`)
      .set("Authorization", ours)
      .type("text/csv")
      .send("Heat;C\nD1;0,02\n");
  const first = await send();
  const second = await send();
  expect(second.headers["heatgate-duplicate"]).toBe("true");
  expect(second.body.id).toBe(first.body.id);
  expect((await send("?again=true")).body.id).not.toBe(first.body.id);
  const other = await send().set("Authorization", theirs);
  expect(other.headers["heatgate-duplicate"]).toBeUndefined();
});

it("walks the pages and sees each submission once while new ones come in", async () => {
  for (let made = 0; made < 5; made++) await submit(`Heat;C\nP${made};0,02\n`);
  const seen: string[] = [];
  let next: string | undefined = "/v1/submissions?limit=2";
  while (next) {
    const page: { body: { items: { id: string }[]; next?: string } } = await get(next);
    seen.push(...page.body.items.map(({ id }) => id));
    next = page.body.next;
    if (seen.length < 4) await submit(`Heat;C\nlate ${seen.length};0,02\n`);
  }
  expect(new Set(seen).size).toBe(seen.length);
  expect(seen.length).toBeGreaterThanOrEqual(5);
});

it("follows a mill's heats from their stored reports, the owner's only", async () => {
  const { key } = await openKeys(stores.pool).create(
    { client: "foundry", name: "a", scopes: ["submit", "read"] },
    "tests",
  );
  const Authorization = `Bearer ${key}`;
  for (const heat of ["N1", "N2"]) {
    await request(api.app)
      .post("/v1/submissions")
      .set({ Authorization, Prefer: "wait=20" })
      .attach("document", Buffer.from(`Heat;C\n${heat};0,02\n`), `carbon ${heat}`);
  }
  const { body, headers } = await get("/v1/heat-history?issuer=norrvik", Authorization);
  expect(headers["cache-control"]).toContain("private");
  const [series] = body.series;
  expect(series).toMatchObject({ mill: "Norrvik Steel", quantity: "C", unit: "%" });
  expect(series.points.map(({ heat, value }: { heat: string; value: string }) => [heat, value])).toEqual([
    ["N1", "0.020"],
    ["N2", "0.020"],
  ]);
  expect(series.message).toContain("2 heats; control limits need at least 8.");
  const page = await get("/v1/heat-history", Authorization).set("Accept", "text/html");
  expect(page.text).toContain("<svg");
  expect((await get("/v1/heat-history?issuer=aurenbach", Authorization)).body.series).toEqual([]);
  expect((await get("/v1/heat-history?createdBefore=2020-01-01T00:00:00Z", Authorization)).body.series).toEqual([]);
  expect((await get("/v1/heat-history", theirs)).body.series).toEqual([]);
  expect((await get("/v1/heat-history?base=3", Authorization)).body.code).toBe("parameter-invalid");
});

it("tells the receiver by a signed webhook, and again when asked", async () => {
  const receiver = await startReceiver();
  const { body } = await submit("Heat;C\nH5;0,02\n").field("callback", JSON.stringify({ url: receiver.url }));
  const [first] = await receiver.waitFor(1);
  const verified = new Webhook(body.callback.secret).verify(first!.body, first!.headers as Record<string, string>);
  expect(verified).toMatchObject({ data: { submission: body.id } });

  const deliveries = `${body.links.self}/deliveries`;
  await expect.poll(async () => (await get(deliveries)).body.items[0]?.state).toBe("delivered");
  const again = await request(api.app).post(deliveries).set("Authorization", ours);
  expect(again.status).toBe(202);
  const [, second] = await receiver.waitFor(2);
  expect(second!.headers["webhook-id"]).toBe(first!.headers["webhook-id"]);
  await receiver.close();
});

it("requirements: versions count up, stay as they were put, and are the owner's", async () => {
  const requirements = openRequirements(stores.pool);
  const one = { requirement: 1, name: "T-204", limits: [{ quantity: "C", max: "0.030", unit: "%" }] } as const;
  const two = { ...one, name: "T-204 b" } as const;
  const put = (requirement: typeof one | typeof two, over?: number) =>
    requirements.put("tarnholm", "t-204", requirement as never, "ERP", over);
  expect(await put(one, 0)).toMatchObject({ isNew: true, stored: { version: 1, createdBy: "ERP" } });
  expect(await put(one)).toMatchObject({ isNew: false, stored: { version: 1 } });
  expect(await put(two, 9)).toBeUndefined();
  const [second, third] = await Promise.all([put(two), put(one)]);
  expect([second?.stored.version, third?.stored.version].sort()).toEqual([2, 3]);
  expect((await requirements.get("tarnholm", "t-204", 1))?.requirement).toEqual(one);
  expect(await requirements.versions("tarnholm", "t-204")).toHaveLength(3);
  expect(await requirements.list("tarnholm")).toMatchObject([{ slug: "t-204", version: 3 }]);
  expect(await requirements.get("other", "t-204")).toBeUndefined();
});

it("keys: two to a client, noted when used, gone when revoked", async () => {
  const keys = openKeys(stores.pool);
  const first = await keys.create({ client: "yard", name: "a", scopes: ["read"] }, "tests");
  await keys.create({ client: "yard", name: "b", scopes: ["read"], expiresAt: new Date(Date.now() + 60_000) }, "tests");
  await expect(keys.create({ client: "yard", name: "c", scopes: ["read"] }, "tests")).rejects.toThrow(/two|2 live/);
  expect(await keys.authenticate(first.key)).toMatchObject({ client: "yard", scopes: ["read"] });
  const noted = (await keys.list()).find(({ id }) => id === first.record.id);
  expect(noted?.lastUsedAt).toBeInstanceOf(Date);
  expect(await keys.revoke(first.record.id, "tests", "another")).toBe(false);
  expect((await keys.list("another")).map(({ id }) => id)).not.toContain(first.record.id);
  expect((await keys.list(first.record.client)).map(({ id }) => id)).toContain(first.record.id);
  expect(await keys.revoke(first.record.id, "tests")).toBe(true);
  expect(await keys.authenticate(first.key)).toBeUndefined();
  expect(await keys.revoke(first.record.id, "tests")).toBe(false);
  await keys.create(
    { client: "yard", name: "expired", scopes: ["read"], expiresAt: new Date(Date.now() - 1) },
    "tests",
  );
  const { rows } = await stores.pool.query("SELECT * FROM heatgate.api_key WHERE client = 'yard'");
  expect(JSON.stringify(rows)).not.toContain(first.key);
});

it("the audit trail holds results, decisions, requirements and keys in one chain that nobody can change", async () => {
  const { body } = await submit("Heat;C\nA1;0,02\n", { Prefer: "wait=20" });
  const decisions = openDecisions(stores.pool, stores.queue);
  const decision = {
    submission: body.id,
    heat: "A1",
    action: "return",
    person: "M. Aurland",
    reason: "Wrong grade.",
  } as const;
  await Promise.all(
    ["1", "2", "3"].map((reference) =>
      decisions.add({ ...decision, reference, owner: "tarnholm", verdict: "fail", reportDigest: "d", keyName: "a" }),
    ),
  );
  expect(await decisions.list(body.id, "tarnholm")).toHaveLength(3);

  const trail: AuditEntry[] = (await get("/v1/audit?limit=200")).body.items;
  expect(faultInChain(trail)).toBeUndefined();
  const kinds = new Set(trail.map(({ kind }) => kind));
  for (const kind of ["key.created", "submission.done", "heat.decided", "requirement.changed"])
    expect(kinds).toContain(kind);
  const result = trail.find(({ kind, subject }) => kind === "submission.done" && subject === body.id);
  expect(result?.details).toMatchObject({ documents: [body.documents[0].sha256], verdict: "undetermined" });

  const others: AuditEntry[] = (await get("/v1/audit", theirs)).body.items;
  expect(faultInChain(others)).toBeUndefined();
  expect(others.every(({ owner }) => owner === "other")).toBe(true);
  for (const change of [
    "UPDATE heatgate.audit SET actor = 'x'",
    "DELETE FROM heatgate.audit",
    "TRUNCATE heatgate.audit",
  ]) {
    await expect(stores.pool.query(change)).rejects.toThrow(/only ever added to/);
  }
});

it("heats are found across submissions by number, verdict, mill and order, each once page by page", async () => {
  for (const [number, heat] of ["H 4471", "h-4471", "H4472"].entries()) {
    await request(api.app)
      .post("/v1/submissions")
      .set({ Authorization: ours, Prefer: "wait=20" })
      .attach("document", Buffer.from("Heat;C\n"), `heat ${heat}`)
      .field("tag.order", `4500${number}`);
  }
  const heats = async (query: string, key = ours) => (await get(`/v1/heats?${query}`, key)).body;
  const namesOf = ({ items }: { items: { heat: string }[] }) => items.map(({ heat }) => heat);

  expect(namesOf(await heats("heat=h4471"))).toEqual(["h-4471", "H 4471"]);
  expect(namesOf(await heats("issuer=norrvik&verdict=fail"))).toEqual(["H4472", "h-4471", "H 4471"]);
  expect(namesOf(await heats("issuer=norrvik&tag=order:45001"))).toEqual(["h-4471"]);
  expect(namesOf(await heats("issuer=norrvik&verdict=pass"))).toEqual([]);
  expect(namesOf(await heats("heat=H4471", theirs))).toEqual([]);

  const first = await heats("issuer=norrvik&limit=2");
  const second = (await get(first.next)).body;
  expect([...namesOf(first), ...namesOf(second)]).toEqual(["H4472", "h-4471", "H 4471"]);
  expect(second.next).toBeUndefined();
  expect((await get("/v1/heats?cursor=1.2")).body.code).toBe("cursor-unknown");
});
