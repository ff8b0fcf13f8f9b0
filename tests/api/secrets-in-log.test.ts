import request from "supertest";
import { afterAll, beforeAll, expect, it } from "vitest";
import { OPERATIONS } from "../support/every-operation.js";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";
import { writeZip } from "../worker/readers/write-zip.js";

/**
 * Every operation with a body that is right and with bodies that are wrong, and in each place that a request has something that must
 * not come into the log: keys, webhook secrets, text of certificates, what people wrote. Everything is logged, down to `trace`.
 */
const WEBHOOK_SECRET = `whsec_${Buffer.from("PLANTED secret of a webhook").toString("base64")}`;
const PLANTED = /PLANTED|UExBTlRFRC|hg_live_|whsec_/;
const RECEIVER = "https://receiver.example/PLANTED?token=PLANTED";
const requirement = { requirement: 1, name: "PLANTED", limits: [{ quantity: "C", max: "0.030", unit: "%" }] };
const who = { person: "PLANTED", reason: "PLANTED", reference: "PLANTED" };
const NONE = undefined;

/** What each operation takes, written by hand; `NONE`: no body. */
const BODIES: Readonly<Record<string, object | undefined>> = {
  "POST /v1/submissions": { carbon: "PLANTED" },
  "POST /v1/submissions/{id}/erasure": who,
  "POST /v1/submissions/{id}/deliveries": NONE,
  "POST /v1/submissions/{id}/decisions": { heat: "H4471", action: "accept", ...who },
  "POST /v1/submissions/{id}/corrections": {
    corrections: 1,
    by: "PLANTED",
    date: "2026-11-25",
    items: [{ document: "0".repeat(64), evidence: { sheet: "PLANTED", cell: "A1" }, quantity: "C", value: "PLANTED" }],
  },
  "POST /v1/submissions/{id}/dry-runs": { requirement, heat: "H4471" },
  "POST /v1/comparisons": { serviceTemperature: "-196 °C", of: [{ submission: "PLANTED" }], requirement },
  "PUT /v1/requirements/{slug}": requirement,
  "DELETE /v1/requirements/{slug}": NONE,
  "POST /v1/requirements/{slug}/restore": NONE,
  "POST /v1/keys": { client: "tarnholm", name: "PLANTED", scopes: ["read"] },
  "DELETE /v1/keys/{id}": NONE,
  "POST /v1/endpoints": { url: RECEIVER, description: "PLANTED", secret: WEBHOOK_SECRET },
  "PATCH /v1/endpoints/{id}": { url: RECEIVER, description: "PLANTED" },
  "DELETE /v1/endpoints/{id}": NONE,
  "POST /v1/endpoints/{id}/secrets": { secret: WEBHOOK_SECRET },
  "POST /v1/endpoints/{id}/test": NONE,
  "POST /v1/endpoints/{id}/replay": { since: "2026-01-01T00:00:00Z" },
  "POST /v1/signing-keys": NONE,
  "DELETE /v1/signing-keys/{keyId}": NONE,
};
const changes = (operation: string) => !operation.startsWith("GET ");

let api: TestApi;
let submission: string;
let endpoint: string;
beforeAll(async () => {
  api = testApi();
  const { body } = await request(api.app).post("/v1/submissions").type("text/csv").send("Heat;C\nPLANTED;0,02\n");
  submission = body.id;
  await api.records.finish(submission, finishedReport("fail"));
  ({
    body: { id: endpoint },
  } = await request(api.app).post("/v1/endpoints").send(BODIES["POST /v1/endpoints"]));
  await request(api.app).put("/v1/requirements/known").send(requirement);
});
afterAll(() => api.remove());

it("the table has every operation that takes something", () => {
  expect(Object.keys(BODIES).sort()).toEqual(OPERATIONS.filter(changes).sort());
});

function pathOf(template: string, isKnown: boolean): string {
  const id = template.includes("/endpoints/") ? endpoint : template.includes("/submissions/") ? submission : "none";
  const known: Readonly<Record<string, string>> = { id, slug: "known", version: "1", code: "fault" };
  // A key in the address, by a sender's mistake.
  return template.replace(/\{(\w+)\}/g, (_, name: string) => (isKnown && known[name]) || WEBHOOK_SECRET);
}

it.each(OPERATIONS)("%s logs that it was asked for, and nothing that is secret", async (operation) => {
  const [method = "", template = ""] = operation.split(" ");
  const good = JSON.stringify(BODIES[operation] ?? {});
  const wrong = [
    '{"a": PLANTED',
    '"PLANTED"',
    `{"PLANTED":"PLANTED","secret":"${WEBHOOK_SECRET}"}`,
    `{"__proto__":{"a":"PLANTED"}}`,
  ];
  const bodies = changes(operation) ? [good, ...wrong] : [""];
  const secrets: string[] = [];
  const before = api.logged().length;
  let asked = 0;
  for (const isKnown of [false, true]) {
    for (const authorization of ["Bearer hg_live_PLANTED", "Basic UExBTlRFRDpQTEFOVEVE", undefined]) {
      for (const body of bodies) {
        const ask = request(api.app)
          [method.toLowerCase() as "post"](`${pathOf(template, isKnown)}?token=PLANTED`)
          .set({ Cookie: "heatgate_key=hg_live_PLANTED", "X-Api-Key": "PLANTED", Referer: RECEIVER })
          .set({ "Idempotency-Key": '"PLANTED"', "User-Agent": "PLANTED", "X-Request-Id": "PLANTED PLANTED" });
        if (authorization !== undefined) ask.set("Authorization", authorization);
        const { text = "" } = await (body === "" ? ask : ask.type("application/json").send(body));
        secrets.push(...(text.match(/\b(?:hg_live|whsec)_[\w+/=-]{20,}/g) ?? []));
        asked++;
      }
    }
  }
  const logged = api.logged().slice(before);
  expect(logged.match(/"responseTime":/g)).toHaveLength(asked);
  expect(logged).not.toMatch(PLANTED);
  for (const secret of secrets) expect(logged).not.toContain(secret);
});

const csv = Buffer.from("Heat;C\nPLANTED;0,02\n");
const archive = writeZip([{ name: "PLANTED.csv", content: csv.toString() }]);
const twice = writeZip([1, 2].map(() => ({ name: "PLANTED.csv", content: csv.toString() })));
const nested = writeZip([{ name: "PLANTED.zip", content: archive }]);
const ask = (path = "/v1/submissions?name=PLANTED&tag=PLANTED:PLANTED") => request(api.app).post(path);
const form = () => ask("/v1/submissions").field("tags", '{"order":"PLANTED"}');

it.each<[what: string, status: number, send: () => request.Test]>([
  ["a form", 202, () => form().attach("document", csv, "PLANTED.csv")],
  [
    "a form with a callback",
    202,
    () =>
      form()
        .attach("document", csv, "PLANTED.csv")
        .field("callback", JSON.stringify({ url: RECEIVER, secret: WEBHOOK_SECRET })),
  ],
  [
    "a form with a callback that is wrong",
    422,
    () => form().attach("document", csv, "PLANTED.csv").field("callback", '{"url":"ftp://PLANTED","PLANTED":1}'),
  ],
  [
    "a form with a requirement that is no JSON",
    400,
    () => form().attach("document", csv, "PLANTED.csv").field("requirement", '{"PLANTED'),
  ],
  ["a form with a part that is not known", 400, () => form().field("PLANTED", "PLANTED")],
  [
    "a form that ends before its end",
    400,
    () =>
      ask("/v1/submissions")
        .set("Content-Type", "multipart/form-data; boundary=x")
        .send('--x\r\nContent-Disposition: form-data; name="document"; filename="PLANTED.csv"\r\n\r\nPLANTED'),
  ],
  [
    "a form of which nobody knows the boundary",
    400,
    () => ask("/v1/submissions").set("Content-Type", "multipart/form-data; PLANTED=PLANTED").send("PLANTED"),
  ],
  ["an archive", 202, () => ask().type("application/zip").send(archive)],
  [
    "an archive in a form",
    202,
    () => form().attach("document", archive, { filename: "PLANTED.zip", contentType: "application/zip" }),
  ],
  ["an archive with one name twice", 422, () => ask().type("application/zip").send(twice)],
  ["an archive in an archive", 422, () => ask().type("application/zip").send(nested)],
  ["bytes that are not what they are declared as", 415, () => ask().type("application/pdf").send("PLANTED")],
])("%s leaves a line in the log, and nothing of what was in it", async (_what, status, send) => {
  const before = api.logged().length;
  const { status: answered } = await send();
  expect(answered).toBe(status);
  const logged = api.logged().slice(before);
  expect(logged.match(/"responseTime":/g)).toHaveLength(1);
  expect(logged).not.toMatch(PLANTED);
});
