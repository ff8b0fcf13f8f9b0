import request, { type Response, type Test } from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { PROBLEMS } from "../../api/problems.js";
import { type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
beforeEach(() => {
  api = testApi();
});
afterEach(() => {
  expect(api.uploads()).toEqual([]);
  expect(api.documents()).toEqual([]);
  expect(api.records.kept.size).toBe(0);
  api.remove();
});

const SUBMISSIONS = "/v1/submissions";
const NOBODY = "/v1/submissions/0197b2c4-0000-7000-8000-000000000000";
const post = () => request(api.app).post(SUBMISSIONS);
const postKey = (key: object) => request(api.app).post("/v1/keys").send(key);
const withPart = (name: string, text: string) =>
  post().attach("document", Buffer.from("Heat;C\n"), "a.csv").field(name, text);
const rawMultipart = (body: string) => post().set("Content-Type", "multipart/form-data; boundary=x").send(body);
const OLE = Buffer.concat([Buffer.from("d0cf11e0a1b11ae1", "hex"), Buffer.alloc(600)]);

const CASES: readonly (readonly [what: string, code: keyof typeof PROBLEMS, send: () => Test])[] = [
  ["an unknown path", "path-unknown", () => request(api.app).get("/v1/nothing")],
  ["a path in other case", "path-unknown", () => request(api.app).get("/v1/Submissions")],
  ["a broken percent-encoding", "path-encoding", () => request(api.app).get("/v1/submissions/%E0%A4%A")],
  ["a broken percent-encoding elsewhere", "path-encoding", () => request(api.app).get("/problems/%")],
  ["a method that does not fit", "method-not-allowed", () => request(api.app).delete(SUBMISSIONS)],
  ["a filter that is not known", "parameter-invalid", () => request(api.app).get(`${SUBMISSIONS}?heat=H4471`)],
  ["a filter without sense", "parameter-invalid", () => request(api.app).get(`${SUBMISSIONS}?state=melted&limit=0`)],
  ["a cursor of one's own", "cursor-unknown", () => request(api.app).get(`${SUBMISSIONS}?cursor=abc`)],
  ["a feed from nowhere", "parameter-invalid", () => request(api.app).get("/v1/events?after=-1")],
  [
    "an empty Idempotency-Key",
    "parameter-invalid",
    () => post().set("Idempotency-Key", '""').type("text/csv").send("a"),
  ],
  ["deliveries of an unknown submission", "submission-unknown", () => request(api.app).get(`${NOBODY}/deliveries`)],
  ["no key", "key-missing", () => post().set("Authorization", "none").type("text/csv").send("Heat;C")],
  [
    "another kind of key",
    "key-missing",
    () => post().set("Authorization", "Basic YTpi").type("text/csv").send("Heat;C"),
  ],
  [
    "a key of nobody's",
    "key-unknown",
    () => post().set("Authorization", "Bearer hg_live_x").type("text/csv").send("a"),
  ],
  ["a key to be made without scopes", "key-invalid", () => postKey({ client: "a", name: "b", scopes: [] })],
  ["a key to be made from nothing", "key-invalid", () => request(api.app).post("/v1/keys")],
  ["a key to be made from broken JSON", "json-broken", () => request(api.app).post("/v1/keys").type("json").send("{")],
  ["a key to be made from too much", "request-too-large", () => postKey({ client: "a".repeat(20_000) })],
  [
    "a key to be made in another alphabet",
    "body-encoding",
    () => request(api.app).post("/v1/keys").set("Content-Type", "application/json; charset=ebcdic").send("{}"),
  ],
  ["a key to revoke that is not there", "key-id-unknown", () => request(api.app).delete("/v1/keys/1")],
  ["a method that does not fit a report", "method-not-allowed", () => request(api.app).put(`${NOBODY}/report`)],
  ["an unknown submission", "submission-unknown", () => request(api.app).get(NOBODY)],
  ["a report of an unknown submission", "submission-unknown", () => request(api.app).get(`${NOBODY}/report`)],
  ["a document of an unknown submission", "submission-unknown", () => request(api.app).get(`${NOBODY}/documents/a`)],
  ["an id that is no id", "submission-unknown", () => request(api.app).get("/v1/submissions/'or%201=1--")],
  ["no body at all", "document-missing", () => post()],
  ["an empty file", "document-empty", () => post().type("text/csv").send("")],
  ["an empty file part", "document-empty", () => post().attach("document", Buffer.alloc(0), "a.csv")],
  ["a form without a document", "document-missing", () => post().field("tags", "{}")],
  ["a document that is too large", "document-too-large", () => post().type("text/csv").send("1".repeat(1_000_001))],
  [
    "a part that is too large",
    "document-too-large",
    () => post().attach("document", Buffer.alloc(1_000_001, 49), "a.csv"),
  ],
  [
    "parts that are too large together",
    "request-too-large",
    () => ["a", "b", "c"].reduce((sent, name) => sent.attach("document", Buffer.alloc(900_000, 49), name), post()),
  ],
  ["a declared size that is too large", "request-too-large", () => post().type("text/csv").send("1".repeat(3_100_000))],
  [
    "too many documents",
    "too-many-documents",
    () => [..."abcdef"].reduce((sent, name) => sent.attach("document", Buffer.from("Heat;C"), name), post()),
  ],
  ["an old workbook", "type-not-read", () => post().type("application/octet-stream").send(OLE)],
  ["bytes of no format", "type-not-read", () => post().type("application/octet-stream").send(Buffer.alloc(99, 0))],
  ["text declared as a PDF", "type-not-as-declared", () => post().type("application/pdf").send("Heat;C")],
  ["a PDF declared as a workbook", "type-not-as-declared", () => post().type("xlsx").send("%PDF-1.7")],
  ["a broken JSON document", "json-broken", () => post().type("application/json").send('{"heat": ')],
  [
    "a body without its boundary",
    "multipart-broken",
    () => post().set("Content-Type", "multipart/form-data").send("x"),
  ],
  ["a body that ends early", "multipart-broken", () => rawMultipart("--x\r\nContent-Disposition: form-data; name=")],
  [
    "a part header that is no header",
    "multipart-broken",
    () => rawMultipart("--x\r\n\u0001\u0002: :\r\n\r\n1\r\n--x--\r\n"),
  ],
  [
    "a file that ends early",
    "multipart-broken",
    () => rawMultipart('--x\r\nContent-Disposition: form-data; name="document"; filename="a.csv"\r\n\r\nHeat;C'),
  ],
  ["an unknown part", "part-unknown", () => withPart("Requirement", "{}")],
  ["an unknown file part", "part-unknown", () => post().attach("file", Buffer.from("Heat;C"), "a.csv")],
  ["a part sent twice", "multipart-broken", () => withPart("tags", "{}").field("tags", "{}")],
  ["a requirement that is not JSON", "json-broken", () => withPart("requirement", "{")],
  ["a requirement of another version", "requirement-invalid", () => withPart("requirement", '{"requirement":2}')],
  ["a requirement part without end", "request-too-large", () => withPart("requirement", " ".repeat(300_000))],
  ["tags that are no texts", "tags-invalid", () => withPart("tags", '{"order":4500012}')],
  ["tags with a name that would be passed over", "tags-invalid", () => withPart("tags", '{"__proto__":"x"}')],
  ["a tag's part with such a name", "tags-invalid", () => withPart("tag.__proto__", "x")],
  [
    "a requirement with such a name deep inside",
    "requirement-invalid",
    () => withPart("requirement", '{"requirement":1,"name":"x","grades":[{"__proto__":{"a":1},"grade":"S30403"}]}'),
  ],
  ["a callback without an address", "callback-invalid", () => withPart("callback", "{}")],
  [
    "a short secret",
    "callback-invalid",
    () => withPart("callback", '{"url":"https://a.example","secret":"whsec_AAAA"}'),
  ],
  ["a callback to itself", "callback-refused", () => withPart("callback", '{"url":"https://localhost/"}')],
];

describe("every refusal is a problem with its documented type", () => {
  it.each(CASES)("%s: %s", async (_what, code, send) => {
    const response = await send().set("Accept", "*/*");
    expectProblem(response, code);
    const page = await request(api.app).get(response.body.type);
    expect(page.status).toBe(200);
    expect(page.body.title).toBe(response.body.title);
  });
});

function expectProblem(response: Response, code: keyof typeof PROBLEMS): void {
  expect(response.body.code).toBe(code);
  expect(response.status).toBe(PROBLEMS[code].status);
  expect(response.headers["content-type"]).toBe("application/problem+json");
  expect(response.headers["x-powered-by"]).toBeUndefined();
  expect(response.headers["x-content-type-options"]).toBe("nosniff");
  expect(response.body).toMatchObject({
    type: `/problems/${code}`,
    status: PROBLEMS[code].status,
    advice: PROBLEMS[code].advice,
    requestId: response.headers["x-request-id"],
  });
}

describe("what is wrong is pointed at", () => {
  it("in a requirement, every fault by JSON Pointer", async () => {
    const faulty = {
      requirement: 1,
      name: "T-204",
      limits: [
        { quantity: "C", max: "0,025", unit: "%" },
        { quantity: "Xx", max: "1", unit: "%" },
      ],
      impact: [{ zone: "weld", temperature: "-196", average: "60 J", single: "42 J" }],
      "gr/ades": [],
    };
    const response = await withPart("requirement", JSON.stringify(faulty));
    expect(response.body.detail).toBe("The requirement has 4 faults.");
    expect(response.body.errors.map((error: { pointer: string }) => error.pointer).sort()).toEqual([
      "/gr~1ades",
      "/impact/0/temperature",
      "/limits/0/max",
      "/limits/1/quantity",
    ]);
  });

  it("in a method, what would be allowed", async () => {
    const response = await request(api.app).delete(SUBMISSIONS);
    expect(response.headers.allow).toBe("GET, POST, HEAD, OPTIONS");
    const options = await request(api.app).options(`${NOBODY}/report`);
    expect(options.status).toBe(204);
    expect(options.headers.allow).toBe("GET, HEAD, OPTIONS");
  });
});

describe("when something of ours is broken", () => {
  it("a store that is away gives 503 with a time to come back, and the log says why", async () => {
    api.records.unreachable = new Error("connection refused at 10.0.0.7");
    const response = await request(api.app).get("/readyz");
    expectProblem(response, "store-unavailable");
    expect(response.headers["retry-after"]).toBe("5");
    expect(response.text).not.toContain("10.0.0.7");
    expect(api.logged()).toContain("10.0.0.7");
    expect((await request(api.app).get("/livez")).status).toBe(200);
  });

  it("a fault shows no insides to the caller", async () => {
    api.records.getSubmission = async () => {
      throw new TypeError("cannot read properties of undefined (reading 'secret')");
    };
    const response = await request(api.app).get(NOBODY);
    expectProblem(response, "fault");
    expect(response.text).not.toContain("properties");
    expect(api.logged()).toContain("properties of undefined");
  });
});
