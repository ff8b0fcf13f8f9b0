import request from "supertest";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { SCOPES } from "../../worker/store/keys.js";
import { OPERATIONS } from "../support/every-operation.js";
import { startReceiver } from "../support/receiver.js";
import { spokenVerifier } from "../support/spoken-certificate.js";
import { type StoredApi, storedApi } from "../support/stored-api.js";

/**
 * Two clients over real SQL. Tarnholm has one of everything; another client, with every scope but `operate`, asks for it by every
 * operation, also with Tarnholm's inner ids beneath what is its own. It must get nothing of Tarnholm's, and change nothing.
 */
const MARK = /tarnholm|norrvik|A7001|a-only|Aurland/i;

interface Ask {
  readonly path: string;
  readonly body?: object;
  /** A problem's code; or "own": an answer, in which nothing of Tarnholm's stands. */
  readonly answer: string;
}

let stored: StoredApi;
let receiver: Awaited<ReturnType<typeof startReceiver>>;
let theirs: string;
let a: Things;
let b: Things;
let asks: Readonly<Record<string, readonly Ask[] | "the same for everybody">>;

type Things = Awaited<ReturnType<typeof oneOfEverything>>;

const PLACE = { line: 1, column: 2 };
const correction = (sha256: string) => ({
  corrections: 1,
  by: "M. Berg",
  date: "2026-11-25",
  items: [{ document: sha256, evidence: PLACE, quantity: "C", value: "0.024", unit: "%" }],
});

/** Makes one of everything as a client with every scope. */
async function oneOfEverything(client: string, heat: string, issuer: string, slug: string, person: string) {
  const scopes = SCOPES.filter((scope) => scope !== "operate");
  const key = await stored.keys.create({ client, name: `${client} key`, scopes }, "tests");
  const authorization = `Bearer ${key.key}`;
  const send = async (method: "get" | "post" | "put", path: string, body?: object) => {
    const answer = await request(stored.api.app)
      [method](path)
      .set({ Authorization: authorization, Prefer: "wait=20" })
      .send(body);
    expect(answer.status, `${path} ${answer.text}`).toBeLessThan(300);
    return answer.body;
  };
  const handIn = (text: string) =>
    request(stored.api.app)
      .post("/v1/submissions")
      .set({ Authorization: authorization, Prefer: "wait=20" })
      .attach("document", Buffer.from(text), `${client}.txt`)
      .field("tags", JSON.stringify({ order: client }));
  const requirement = { requirement: 1, name: slug, limits: [{ quantity: "C", max: "0.030", unit: "%" }] };
  await send("put", `/v1/requirements/${slug}`, requirement);
  await send("put", `/v1/requirements/${slug}`, { ...requirement, name: `${slug} 2` });
  const endpoint = await send("post", "/v1/endpoints", { url: `${receiver.url}/${client}` });
  const { body } = await handIn(`${heat} 0.021 ${issuer}`);
  for (const number of [1, 2]) await handIn(`${heat}-${number} 0.022 ${issuer}`);
  const id: string = body.id;
  await send("post", `/v1/submissions/${id}/decisions`, {
    heat,
    action: "accept",
    person,
    reason: `${client} says so`,
  });
  const dryRun = await send("post", `/v1/submissions/${id}/dry-runs`, { requirement: slug });
  await send("get", `/v1/submissions/${id}/grades`);
  const sha256: string = body.documents[0].sha256;
  const corrected = await send("post", `/v1/submissions/${id}/corrections`, correction(sha256));
  expect((await send("get", `/v1/submissions/${corrected.id}`)).state).toBe("done");
  const cursorOf = async (path: string) =>
    new URL((await send("get", path)).next, "http://x").searchParams.get("cursor");
  return {
    client,
    heat,
    slug,
    id,
    sha256,
    authorization,
    dryRun: dryRun.id as string,
    endpoint: endpoint.id as string,
    key: key.record.id,
    cursors: {
      submissions: await cursorOf("/v1/submissions?limit=1"),
      heats: await cursorOf("/v1/heats?limit=1"),
      deliveries: await cursorOf(`/v1/endpoints/${endpoint.id}/deliveries?limit=1`),
    },
  };
}

beforeAll(async () => {
  receiver = await startReceiver();
  stored = await storedApi(spokenVerifier(), { callbackProblem: () => undefined });
  a = await oneOfEverything("tarnholm-yard", "A7001", "Norrvik", "a-only", "M. Aurland");
  b = await oneOfEverything("other", "B8002", "Aurenbach", "b-only", "M. Berg");
  theirs = b.authorization;
  asks = asksOf();
}, 120_000);
afterAll(async () => {
  await stored.close();
  await receiver.close();
});

function asksOf(): typeof asks {
  const ofA = `/v1/submissions/${a.id}`;
  const ofB = `/v1/submissions/${b.id}`;
  const endpoint = `/v1/endpoints/${a.endpoint}`;
  const requirement = `/v1/requirements/${a.slug}`;
  const stranger = (path: string, body?: object): readonly Ask[] => [
    { path, answer: "submission-unknown", ...(body && { body }) },
  ];
  const noEndpoint = (path: string, body?: object): readonly Ask[] => [
    { path, answer: "endpoint-unknown", ...(body && { body }) },
  ];
  const noRequirement = (path: string): readonly Ask[] => [{ path, answer: "requirement-unknown" }];
  const everybody = "the same for everybody";
  const decision = (heat: string) => ({ heat, action: "return", person: "M. Berg", reason: "Not ours." });
  const minimum = { requirement: 1, name: "mine" };
  return {
    "GET /livez": everybody,
    "GET /startupz": everybody,
    "GET /readyz": everybody,
    "GET /v1/openapi.json": everybody,
    "GET /problems/{code}": everybody,
    "GET /.well-known/jwks.json": everybody,
    "GET /v1/grades": everybody,
    "GET /v1/grades/{standard}/{edition}/{grade}": everybody,
    // Of the installation, and out of reach.
    "POST /v1/signing-keys": [{ path: "/v1/signing-keys", answer: "scope-missing" }],
    "DELETE /v1/signing-keys/{keyId}": [{ path: "/v1/signing-keys/any", answer: "scope-missing" }],
    "POST /v1/submissions": [
      { path: `/v1/submissions?requirement=${a.slug}`, answer: "requirement-unknown" },
      { path: `/v1/submissions?requirement=${a.slug}@1`, answer: "requirement-unknown" },
    ],
    "GET /v1/submissions": [
      { path: "/v1/submissions", answer: "own" },
      { path: `/v1/submissions?cursor=${a.cursors.submissions}`, answer: "own" },
      { path: "/v1/submissions?tag=order:tarnholm-yard", answer: "own" },
    ],
    "GET /v1/submissions/{id}": stranger(ofA),
    "GET /v1/submissions/{id}/report": stranger(`${ofA}/report`),
    "GET /v1/submissions/{id}/report/signature": stranger(`${ofA}/report/signature`),
    "GET /v1/submissions/{id}/documents/{sha256}": [
      ...stranger(`${ofA}/documents/${a.sha256}`),
      { path: `${ofB}/documents/${a.sha256}`, answer: "document-unknown" },
    ],
    "GET /v1/submissions/{id}/erasure": stranger(`${ofA}/erasure`),
    "POST /v1/submissions/{id}/erasure": stranger(`${ofA}/erasure`, { person: "M. Berg", reason: "Away with it." }),
    "GET /v1/submissions/{id}/deliveries": stranger(`${ofA}/deliveries`),
    "POST /v1/submissions/{id}/deliveries": stranger(`${ofA}/deliveries`),
    "GET /v1/submissions/{id}/decisions": [
      ...stranger(`${ofA}/decisions`),
      { path: `${ofB}/decisions`, answer: "own" },
    ],
    "POST /v1/submissions/{id}/decisions": [
      ...stranger(`${ofA}/decisions`, decision(a.heat)),
      { path: `${ofB}/decisions`, body: decision(a.heat), answer: "heat-unknown" },
    ],
    "POST /v1/submissions/{id}/corrections": [
      ...stranger(`${ofA}/corrections`, correction(a.sha256)),
      { path: `${ofB}/corrections`, body: correction(a.sha256), answer: "corrections-invalid" },
    ],
    "POST /v1/submissions/{id}/dry-runs": [
      ...stranger(`${ofA}/dry-runs`, { requirement: minimum }),
      { path: `${ofB}/dry-runs`, body: { requirement: a.slug }, answer: "requirement-unknown" },
      { path: `${ofB}/dry-runs`, body: { requirement: `${a.slug}@1` }, answer: "requirement-unknown" },
      { path: `${ofB}/dry-runs`, body: { requirement: minimum, heat: a.heat }, answer: "heat-unknown" },
    ],
    "GET /v1/submissions/{id}/dry-runs/{dryRun}": [
      ...stranger(`${ofA}/dry-runs/${a.dryRun}`),
      { path: `${ofB}/dry-runs/${a.dryRun}`, answer: "dry-run-unknown" },
    ],
    "GET /v1/submissions/{id}/grades": [...stranger(`${ofA}/grades`), { path: `${ofB}/grades`, answer: "own" }],
    "GET /v1/events": [
      { path: "/v1/events", answer: "own" },
      { path: "/v1/events?after=1", answer: "own" },
    ],
    "GET /v1/audit": [
      { path: "/v1/audit", answer: "own" },
      { path: "/v1/audit?after=2", answer: "own" },
    ],
    "GET /v1/heats": [
      { path: "/v1/heats", answer: "own" },
      { path: `/v1/heats?heat=${a.heat}`, answer: "own" },
      { path: "/v1/heats?issuer=norrvik", answer: "own" },
      { path: `/v1/heats?cursor=${a.cursors.heats}`, answer: "own" },
    ],
    "GET /v1/heat-history": [
      { path: "/v1/heat-history", answer: "own" },
      { path: "/v1/heat-history?issuer=norrvik", answer: "own" },
    ],
    "POST /v1/comparisons": [
      ...stranger("/v1/comparisons", {
        serviceTemperature: "-196 °C",
        of: [{ submission: b.id }, { submission: a.id }],
      }),
      {
        path: "/v1/comparisons",
        body: { serviceTemperature: "-196 °C", of: [{ submission: b.id }], requirement: a.slug },
        answer: "requirement-unknown",
      },
    ],
    "GET /v1/requirements": [
      { path: "/v1/requirements", answer: "own" },
      { path: "/v1/requirements?archived=true", answer: "own" },
    ],
    "GET /v1/requirements/{slug}": noRequirement(requirement),
    // Under the same name it is another requirement, of its own.
    "PUT /v1/requirements/{slug}": [{ path: requirement, body: minimum, answer: "own" }],
    "DELETE /v1/requirements/{slug}": noRequirement(requirement),
    "POST /v1/requirements/{slug}/restore": noRequirement(`${requirement}/restore`),
    "GET /v1/requirements/{slug}/versions": noRequirement(`${requirement}/versions`),
    "GET /v1/requirements/{slug}/versions/{version}": noRequirement(`${requirement}/versions/1`),
    "GET /v1/requirements/{slug}/difference": noRequirement(`${requirement}/difference?before=1&after=2`),
    "GET /v1/keys": [{ path: "/v1/keys", answer: "own" }],
    "POST /v1/keys": [
      { path: "/v1/keys", body: { client: a.client, name: "x", scopes: ["read"] }, answer: "scope-missing" },
    ],
    "DELETE /v1/keys/{id}": [{ path: `/v1/keys/${a.key}`, answer: "key-id-unknown" }],
    "GET /v1/endpoints": [{ path: "/v1/endpoints", answer: "own" }],
    "POST /v1/endpoints": [{ path: "/v1/endpoints", body: { url: `${receiver.url}/more` }, answer: "own" }],
    "GET /v1/endpoints/{id}": noEndpoint(endpoint),
    "PATCH /v1/endpoints/{id}": noEndpoint(endpoint, { url: `${receiver.url}/mine` }),
    "DELETE /v1/endpoints/{id}": noEndpoint(endpoint),
    "POST /v1/endpoints/{id}/secrets": noEndpoint(`${endpoint}/secrets`, {}),
    "POST /v1/endpoints/{id}/test": noEndpoint(`${endpoint}/test`),
    "POST /v1/endpoints/{id}/replay": noEndpoint(`${endpoint}/replay`, { since: "2020-01-01T00:00:00Z" }),
    "GET /v1/endpoints/{id}/deliveries": [
      ...noEndpoint(`${endpoint}/deliveries`),
      { path: `/v1/endpoints/${b.endpoint}/deliveries?cursor=${a.cursors.deliveries}`, answer: "own" },
    ],
  };
}

/** Every row that belongs to Tarnholm, by whatever column says so; tables that are made later included. */
async function rowsOfTarnholm(): Promise<Readonly<Record<string, readonly unknown[]>>> {
  const { pool } = stored.stores;
  const { rows: columns } = await pool.query<{ table: string; column: string }>(
    `SELECT c.table_name AS "table", c.column_name AS "column" FROM information_schema.columns AS c
     JOIN information_schema.tables AS t USING (table_schema, table_name)
     WHERE table_schema = 'heatgate' AND t.table_type = 'BASE TABLE'
       AND c.column_name IN ('owner', 'client', 'submission', 'endpoint') ORDER BY 1, 2`,
  );
  const kept: Record<string, readonly unknown[]> = {};
  for (const { table, column } of columns) {
    const { rows } = await pool.query(
      `SELECT to_jsonb(t) - 'last_used_at' AS row FROM heatgate.${table} AS t WHERE t.${column}::text = ANY ($1) ORDER BY 1`,
      [[a.client, a.id, a.endpoint]],
    );
    kept[`${table}.${column}`] = rows.map(({ row }) => row);
  }
  return kept;
}

const isSettled = (state: Readonly<Record<string, readonly unknown[]>>) => !JSON.stringify(state).includes('"pending"');

describe("two clients over real SQL", () => {
  it("are told apart in the table for every operation", () => {
    expect(Object.keys(asks).sort()).toEqual([...OPERATIONS].sort());
  });

  it("have one of everything", async () => {
    const state = await rowsOfTarnholm();
    for (const table of ["submission.owner", "decision.owner", "endpoint.owner", "requirement.owner", "event.owner"]) {
      expect(state[table], table).not.toEqual([]);
    }
    const own = await request(stored.api.app).get("/v1/audit").set("Authorization", a.authorization);
    expect(own.text).toMatch(MARK);
  });

  // The one by which it has a requirement of that name itself comes last.
  const PUT = "PUT /v1/requirements/{slug}";
  it.each([
    ["get", ""],
    ["post", "/decisions"],
    ["post", "/corrections"],
  ] as const)("the page's %s /submissions/{id}%s knows no submission of another client", async (method, rest) => {
    await expect.poll(async () => isSettled(await rowsOfTarnholm()), { timeout: 20_000 }).toBe(true);
    const before = await rowsOfTarnholm();
    const ask = (id: string, key: string) => {
      const sent = request(stored.api.app)[method](`/submissions/${id}${rest}`).set({ Authorization: key });
      const form = { heat: a.heat, action: "return", person: "M. Berg", reason: "Not ours." };
      return method === "get" ? sent.accept("html") : sent.accept("html").type("form").send(form);
    };
    const got = await ask(a.id, theirs);
    expect(got.status, got.text).toBe(404);
    expect(got.type).toBe("text/html");
    expect(got.text.replaceAll(a.id, "")).not.toMatch(MARK);
    expect(await rowsOfTarnholm()).toEqual(before);
    expect((await ask(b.id, theirs)).status === 404).toBe(rest === "/decisions"); // No heat of that name in its own.
    if (method === "get") expect((await ask(a.id, a.authorization)).status).toBe(200);
  });

  it.each([...OPERATIONS.filter((operation) => operation !== PUT), PUT])(
    "%s gives nothing of another client's away and changes nothing of it",
    async (operation) => {
      const wanted = asks[operation];
      if (wanted === undefined || typeof wanted === "string") return;
      await expect.poll(async () => isSettled(await rowsOfTarnholm()), { timeout: 20_000 }).toBe(true);
      const before = await rowsOfTarnholm();
      const [method = ""] = operation.split(" ");
      for (const { path, body, answer } of wanted) {
        const ask = request(stored.api.app)[method.toLowerCase() as "get"](path).set("Authorization", theirs);
        const got = await (operation === "POST /v1/submissions"
          ? ask.type("text/csv").send("B8003 0.021 Aurenbach")
          : method === "GET"
            ? ask
            : ask.send(body ?? {}));
        if (answer === "own") {
          expect(got.status, path).toBeLessThan(300);
          // The name that it gave its own requirement itself.
          expect(got.text.replaceAll(a.slug, ""), path).not.toMatch(MARK);
          for (const id of [a.id, a.endpoint, a.key, a.dryRun, a.sha256]) expect(got.text, path).not.toContain(id);
        } else {
          expect([path, got.body.code]).toEqual([path, answer]);
          expect(
            got.text.replaceAll(`${path}`, "").replaceAll(a.slug, "").replaceAll(a.heat, "").replaceAll(a.id, ""),
          ).not.toMatch(MARK);
        }
      }
      expect(await rowsOfTarnholm()).toEqual(before);
    },
  );
});
