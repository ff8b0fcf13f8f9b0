import { createPublicKey, verify } from "node:crypto";
import type { ServerResponse } from "node:http";
import { Webhook } from "standardwebhooks";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { RunningWorker } from "../../../worker/start-worker.js";
import { listAudit } from "../../../worker/store/audit.js";
import {
  type Endpoint,
  EndpointDisabled,
  type EndpointSettings,
  type Endpoints,
  TooMany,
} from "../../../worker/store/endpoints.js";
import { openEmbedded } from "../../../worker/store/open-embedded.js";
import { EVERY_OWNER } from "../../../worker/store/records.js";
import { openDecisions } from "../../../worker/store/sql-decisions.js";
import { openEndpoints } from "../../../worker/store/sql-endpoints.js";
import type { Stores } from "../../../worker/store/stores.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { namingVerifier, newSubmission, storeDocument } from "../../support/invented.js";
import { type Received, startReceiver } from "../../support/receiver.js";
import { startTestWorker } from "../../support/running-worker.js";

type Receiver = Awaited<ReturnType<typeof startReceiver>>;

let folder: Awaited<ReturnType<typeof embeddedFolder>>;
let stores: Stores;
let worker: RunningWorker;
let endpoints: Endpoints;
let owner: string;
const receivers: Receiver[] = [];
let owners = 0;

beforeAll(async () => {
  folder = await embeddedFolder();
  stores = await openEmbedded(folder.path, "https://heatgate.example");
  endpoints = openEndpoints(stores);
  const verifier = namingVerifier();
  worker = await startTestWorker(stores, { ...verifier, buildReport: failNamedHeats }, { disableEndpointAfterMs: 0 });

  function failNamedHeats(input: Parameters<typeof verifier.buildReport>[0]) {
    const heats = input.documents.flatMap(({ name }) => /^heat (.+)$/.exec(name)?.[1] ?? []);
    const failed = heats.map((heat) => ({ heat, verdict: "fail" as const, grades: [], readings: [], findings: [] }));
    return { ...verifier.buildReport(input), heats: failed };
  }
});
afterAll(async () => {
  await worker.stop();
  await stores.close();
  await folder.remove();
});
beforeEach(() => {
  owner = `owner-${++owners}`;
});
afterEach(async () => {
  for (const receiver of receivers.splice(0)) await receiver.close();
});

async function receiver(answer?: (response: ServerResponse, count: number) => void): Promise<Receiver> {
  const started = await startReceiver(answer);
  receivers.push(started);
  return started;
}

const create = (url: string, more: Partial<EndpointSettings> = {}, kind: "v1" | "v1a" = "v1") =>
  endpoints.create(owner, { url, description: "", body: "thin", ...more }, { kind }, "tests");

async function submit(name = "cert.csv", of = owner) {
  const document = await storeDocument(stores.documents, folder.path, `${name} ${Math.random()}`);
  const { id } = await stores.records.createSubmission(newSubmission([{ ...document, name }], { owner: of }));
  await stores.records.waitUntilFinal(id, 20_000);
  return id;
}

const typesOf = (received: readonly Received[]) => received.map(({ body }) => JSON.parse(body).type);
const current = async ({ id }: Endpoint) => (await endpoints.get(owner, id))!;
const trail = async () => (await listAudit(stores.pool, owner, 0, 100)).map(({ kind }) => kind);

describe("a registered endpoint", () => {
  test("is told of what it chose and of nothing else, each submission once, whoever else is told", async () => {
    const [all, failed, others] = [await receiver(), await receiver(), await receiver()];
    const { secret } = await create(all.url);
    await create(failed.url, { events: ["heat.failed"] });
    const id = await submit("heat H4471");
    await endpoints.create(
      "somebody else",
      { url: others.url, description: "", body: "thin" },
      { kind: "v1" },
      "tests",
    );
    await submit("cert.csv");
    await all.waitFor(3);
    await failed.waitFor(1);

    expect(typesOf(all.received).sort()).toEqual(["heat.failed", "submission.done", "submission.done"]);
    expect(typesOf(failed.received)).toEqual(["heat.failed"]);
    expect(JSON.parse(failed.received[0]!.body).data).toMatchObject({ submission: id, failed: 1, heats: ["H4471"] });
    expect(others.received).toEqual([]);
    for (const { body, headers } of all.received) new Webhook(secret!).verify(body, headers as Record<string, string>);
  });

  test("gets the report itself in a full body, byte for byte", async () => {
    const full = await receiver();
    await create(full.url, { body: "full", events: ["submission.done"] });
    const id = await submit();
    await full.waitFor(1);
    const report = (await stores.records.getReport(id, EVERY_OWNER))!;
    expect(full.received[0]!.body).toContain(`"content":${report.json}}}`);
    expect(JSON.parse(full.received[0]!.body).data.content.report).toBe(1);
  });

  test("hears of decisions; who decided and why only in a full body", async () => {
    const [thin, full] = [await receiver(), await receiver()];
    await create(thin.url, { events: ["decision.recorded"] });
    await create(full.url, { events: ["decision.recorded"], body: "full" });
    const submission = await submit("heat H1");
    const decision = {
      submission,
      heat: "H1",
      action: "return",
      person: "M. Aurland",
      reason: "Wrong grade.",
    } as const;
    const more = { owner, verdict: "fail", reportDigest: "d", keyName: "ERP" } as const;
    await openDecisions(stores.pool, stores.queue).add({ ...decision, ...more });
    const [[told], [toldFully]] = [await thin.waitFor(1), await full.waitFor(1)];
    expect(JSON.parse(told!.body).data).toMatchObject({ submission, heat: "H1", action: "return", verdict: "fail" });
    expect(told!.body).not.toContain("Aurland");
    expect(JSON.parse(toldFully!.body).data.content).toEqual({ person: "M. Aurland", reason: "Wrong grade." });
  });

  test("is tested with an event of its own that nobody else gets", async () => {
    const [tested, other] = [await receiver(), await receiver()];
    const { endpoint } = await create(tested.url, { events: ["heat.failed"] });
    await create(other.url);
    const event = await endpoints.sendTest(owner, endpoint.id);
    const [got] = await tested.waitFor(1);
    expect(got!.headers["webhook-id"]).toBe(event);
    await submit();
    await other.waitFor(1);
    expect(typesOf(other.received)).toEqual(["submission.done"]);
  });

  test("can be changed, and lies in the store with nothing secret to be read", async () => {
    const [before, after] = [await receiver(), await receiver()];
    const { endpoint, secret } = await create(before.url);
    const { rows } = await stores.pool.query("SELECT * FROM heatgate.endpoint_secret");
    expect(JSON.stringify(rows)).not.toContain(secret!.slice(6));
    await endpoints.update(owner, endpoint.id, { url: after.url, events: ["submission.done"] }, "tests");
    await submit("heat H1");
    await after.waitFor(1);
    expect([before.received.length, typesOf(after.received)]).toEqual([0, ["submission.done"]]);
    expect(await endpoints.remove(owner, endpoint.id, "tests")).toBe(true);
    await submit();
    expect(await trail()).toEqual(expect.arrayContaining(["endpoint.created", "endpoint.changed", "endpoint.deleted"]));
    expect(after.received).toHaveLength(1);
  });

  test("is its owner's alone, and one of twenty", async () => {
    const { endpoint } = await create("https://receiver.example/");
    for (const work of [
      endpoints.get("other", endpoint.id),
      endpoints.update("other", endpoint.id, { body: "full" }, "x"),
      endpoints.rotateSecret("other", endpoint.id, { kind: "v1" }, new Date(), "x"),
      endpoints.sendTest("other", endpoint.id),
      endpoints.replay("other", endpoint.id, new Date(0), false),
      endpoints.listDeliveries("other", endpoint.id, 10),
      endpoints.get(owner, "'; drop table"),
    ])
      expect(await work).toBeUndefined();
    expect(await endpoints.remove("other", endpoint.id, "x")).toBe(false);
    for (let more = 1; more < 20; more++) await create("https://receiver.example/");
    await expect(create("https://receiver.example/")).rejects.toThrow(TooMany);
  });
});

describe("secrets", () => {
  const signatures = ({ headers }: Received) => String(headers["webhook-signature"]).split(" ");
  const accepts = (secret: string, { body, headers }: Received) => {
    try {
      return new Webhook(secret).verify(body, headers as Record<string, string>) !== undefined;
    } catch {
      return false;
    }
  };

  test("sign side by side while one takes over from another, and end when they are to", async () => {
    const { url, waitFor } = await receiver();
    const { endpoint, secret: first } = await create(url, { events: ["submission.done"] });
    const soon = new Date(Date.now() + 3_600_000);
    const second = (await endpoints.rotateSecret(owner, endpoint.id, { kind: "v1" }, soon, "tests"))!.secret!;
    await submit();
    const [both] = await waitFor(1);
    expect(signatures(both!)).toHaveLength(2);
    expect([accepts(first!, both!), accepts(second, both!)]).toEqual([true, true]);
    expect((await current(endpoint)).signatures).toMatchObject([{ kind: "v1" }, { kind: "v1", endsAt: soon }]);

    const third = (await endpoints.rotateSecret(owner, endpoint.id, { kind: "v1" }, new Date(), "tests"))!.secret!;
    await submit();
    const [, one] = await waitFor(2);
    expect([first!, second, third].map((secret) => accepts(secret, one!))).toEqual([false, false, true]);
    expect(await trail()).toContain("endpoint.secret-changed");
  });

  test("of kind v1a: anybody can check with the public key, and a v1 beside it is still taken", async () => {
    const { url, waitFor } = await receiver();
    const { endpoint, secret } = await create(url, { events: ["submission.done"] }, "v1a");
    expect(secret).toBeUndefined();
    const rotated = await endpoints.rotateSecret(
      owner,
      endpoint.id,
      { kind: "v1" },
      new Date(Date.now() + 60_000),
      "x",
    );
    await submit();
    const [got] = await waitFor(1);
    expect(accepts(rotated!.secret!, got!)).toBe(true);

    const raw = Buffer.from(endpoint.signatures[0]!.publicKey!.slice("whpk_".length), "base64");
    const key = createPublicKey({ format: "jwk", key: { kty: "OKP", crv: "Ed25519", x: raw.toString("base64url") } });
    const asymmetric = signatures(got!).find((signature) => signature.startsWith("v1a,"))!;
    const text = `${got!.headers["webhook-id"]}.${got!.headers["webhook-timestamp"]}.${got!.body}`;
    const check = (signed: string) =>
      verify(null, Buffer.from(signed), key, Buffer.from(asymmetric.slice(4), "base64"));
    expect([check(text), check(`${text} `)]).toEqual([true, false]);
  });

  test("are five at most at the same time", async () => {
    const { endpoint } = await create("https://receiver.example/");
    const later = new Date(Date.now() + 60_000);
    const rotate = () => endpoints.rotateSecret(owner, endpoint.id, { kind: "v1" }, later, "tests");
    for (let count = 1; count < 5; count++) await rotate();
    await expect(rotate()).rejects.toThrow(TooMany);
    expect((await current(endpoint)).signatures).toHaveLength(5);
  });
});

describe("an endpoint that takes nothing", () => {
  test("is disabled at once when it says 410, and its owner is told three ways", async () => {
    const [gone, other] = [await receiver((response) => void response.writeHead(410).end()), await receiver()];
    const { endpoint } = await create(gone.url);
    await create(other.url, { events: ["endpoint.disabled"] });
    await submit();
    const [told] = await other.waitFor(1);
    expect(JSON.parse(told!.body)).toMatchObject({
      type: "endpoint.disabled",
      data: { endpoint: endpoint.id, because: "gone", receiver: new URL(gone.url).origin },
    });
    expect(await current(endpoint)).toMatchObject({ state: "disabled", disabledBecause: "gone" });
    expect(await trail()).toContain("endpoint.disabled");
    const feed = await stores.records.listEvents(owner, 0, 100);
    expect(feed.map(({ type }) => type)).toEqual(["submission.done", "endpoint.disabled"]);
    await submit();
    expect(gone.received).toHaveLength(1);
    await expect(endpoints.sendTest(owner, endpoint.id)).rejects.toThrow(EndpointDisabled);
    await expect(endpoints.replay(owner, endpoint.id, new Date(0), false)).rejects.toThrow(EndpointDisabled);
  });

  // The worker of these tests is set to wait for no time at all.
  test("for too long is disabled; taken into service again it is replayed what it missed, under the same ids", async () => {
    let isWell = false;
    const flaky = await receiver((response) => void response.writeHead(isWell ? 204 : 500).end());
    const since = new Date();
    const { endpoint } = await create(flaky.url, { events: ["submission.done"] });
    await submit();
    await expect.poll(async () => (await current(endpoint)).disabledBecause).toBe("failing");
    const page = await endpoints.listDeliveries(owner, endpoint.id, 10);
    expect(page!.items).toMatchObject([{ state: "disabled", attempts: [{ status: 500, problem: "status" }] }]);
    await submit();

    isWell = true;
    await endpoints.update(owner, endpoint.id, { state: "active" }, "tests");
    expect(await endpoints.replay(owner, endpoint.id, since, true)).toEqual({ deliveries: 2 });
    await flaky.waitFor(3);
    expect(flaky.received[0]!.headers["webhook-id"]).toBe(flaky.received[1]!.headers["webhook-id"]);
    await expect
      .poll(async () => (await endpoints.listDeliveries(owner, endpoint.id, 10))!.items.map(({ state }) => state))
      .toEqual(["delivered", "delivered"]);
    expect(await endpoints.replay(owner, endpoint.id, since, true)).toEqual({ deliveries: 0 });
    expect(await endpoints.replay(owner, endpoint.id, new Date(), false)).toEqual({ deliveries: 0 });
    expect(await endpoints.replay(owner, endpoint.id, since, false)).toEqual({ deliveries: 2 });
    expect((await current(endpoint)).failingSince).toBeUndefined();
  });

  test("delays nobody else: others are told of everything while it sits on its answers", async () => {
    const held: ServerResponse[] = [];
    const [slow, quick] = [await receiver((response) => void held.push(response)), await receiver()];
    await create(slow.url, { events: ["submission.done"] });
    await create(quick.url, { events: ["submission.done"] });
    const made = await Promise.all(Array.from({ length: 15 }, () => submit()));
    const told = await quick.waitFor(made.length);
    expect(new Set(told.map(({ body }) => JSON.parse(body).data.submission))).toEqual(new Set(made));
    expect(held.length).toBeLessThanOrEqual(4);
    for (const response of held) response.writeHead(204).end();
    const rest = slow.received.length;
    expect(rest).toBeLessThanOrEqual(4);
    // Its owner gives up on it, so that nothing is left to be sent when this test ends.
    for (const { id } of await endpoints.list(owner)) await endpoints.remove(owner, id, "tests");
  });

  test("on an address that is not called is never connected to", async () => {
    const strict = await startReceiver();
    const address = strict.url.replace("127.0.0.1", "169.254.169.254");
    const { endpoint } = await create(address);
    await endpoints.sendTest(owner, endpoint.id);
    await expect
      .poll(async () => (await endpoints.listDeliveries(owner, endpoint.id, 1))!.items[0]?.attempts[0]?.problem)
      .toBe("address-blocked");
    expect(strict.received).toEqual([]);
    await strict.close();
  });
});

test("deliveries are listed page by page, newest first", async () => {
  const { url, waitFor } = await receiver();
  const { endpoint } = await create(url, { events: ["submission.done"] });
  const made = [await submit(), await submit(), await submit()];
  await waitFor(3);
  const first = (await endpoints.listDeliveries(owner, endpoint.id, 2))!;
  const second = (await endpoints.listDeliveries(owner, endpoint.id, 2, first.next))!;
  const seen = [...first.items, ...second.items].map(({ submission }) => submission);
  expect(seen).toEqual(made.reverse());
  expect(second.next).toBeUndefined();
});
