import request from "supertest";
import { afterAll, beforeAll, expect, it } from "vitest";
import { spokenVerifier } from "../support/spoken-certificate.js";
import { type StoredApi, storedApi } from "../support/stored-api.js";

/** JSON and addresses can say what PostgreSQL keeps in no text. It is refused at the door, by name, not found out by the database. */
const NUL = "a\u0000b";
const HALF = "a\ud800b";

let stored: StoredApi;
let id: string;
beforeAll(async () => {
  stored = await storedApi(spokenVerifier(), { callbackProblem: () => undefined });
  const done = await request(stored.api.app)
    .post("/v1/submissions")
    .set("Prefer", "wait=20")
    .attach("document", Buffer.from("N2001 0.021"), "a.txt");
  id = done.body.id;
});
afterAll(() => stored.close());

const decision = { heat: "N2001", action: "return", person: "M. Aurland", reason: "Wrong grade." };
const bodies: readonly [
  what: string,
  method: "post" | "put" | "patch",
  path: string,
  body: (text: string) => object,
][] = [
  ["a key's client", "post", "/v1/keys", (text) => ({ client: text, name: "a", scopes: ["read"] })],
  ["a key's name", "post", "/v1/keys", (text) => ({ client: "a", name: text, scopes: ["read"] })],
  ["who decides", "post", "/v1/submissions/{id}/decisions", (text) => ({ ...decision, person: text })],
  ["the reason", "post", "/v1/submissions/{id}/decisions", (text) => ({ ...decision, reason: text })],
  ["the reference", "post", "/v1/submissions/{id}/decisions", (text) => ({ ...decision, reference: text })],
  ["a requirement's name", "put", "/v1/requirements/a", (text) => ({ requirement: 1, name: text })],
  ["an endpoint's description", "post", "/v1/endpoints", (text) => ({ url: "https://a.example/", description: text })],
  ["an endpoint's address", "post", "/v1/endpoints", (text) => ({ url: `https://a.example/${text}` })],
  ["a dry run's heat", "post", "/v1/submissions/{id}/dry-runs", (text) => ({ heat: text, requirement: "a" })],
  ["a name in the JSON", "post", "/v1/keys", (text) => ({ client: "a", name: "a", scopes: ["read"], [text]: 1 })],
];

it.each(bodies)("in a body: %s", async (_what, method, path, body) => {
  for (const text of [NUL, HALF]) {
    const answer = await request(stored.api.app)[method](path.replace("{id}", id)).send(body(text));
    expect(answer.status, answer.text).toBe(422);
    expect(answer.body.errors[0].detail).toContain("U+0000");
  }
});

it("in tags, as JSON and as parts", async () => {
  const send = () => request(stored.api.app).post("/v1/submissions").attach("document", Buffer.from("N 0.02"), "a.txt");
  for (const text of [NUL, HALF]) {
    const answer = await send().field("tags", JSON.stringify({ order: text }));
    expect(answer.body.code).toBe("tags-invalid");
  }
  expect((await send().field("tag.order", NUL)).body.code).toBe("tags-invalid");
});

it.each([
  "/v1/heats?heat=%00",
  "/v1/heats?issuer=a%00",
  "/v1/submissions?tag=a:%00",
  "/v1/heat-history?issuer=%00",
  "/v1/requirements/a%00",
  "/v1/submissions/%00",
  "/submissions/%00",
])("in an address: %s", async (path) => {
  const answer = await request(stored.api.app).get(path);
  expect(answer.status).toBe(400);
  expect(answer.body.code).toBe("path-encoding");
});

it("nested deeper than any stack is refused like other nonsense", async () => {
  const deep = `${"[".repeat(6_000)}"${"\\u0000"}"${"]".repeat(6_000)}`;
  const answer = await request(stored.api.app).post("/v1/keys").set("Content-Type", "application/json").send(deep);
  expect(answer.body.code).toBe("key-invalid");
});

it("a number of an entry larger than any trail is past its end", async () => {
  const answer = await request(stored.api.app).get("/v1/audit?after=9007199254740991");
  expect(answer.body.items).toEqual([]);
});
