import fc from "fast-check";
import request from "supertest";
import { afterAll, beforeAll, expect, it } from "vitest";
import { openapiDocument } from "../../api/openapi/document.js";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

/**
 * Every operation of the document under requests that are half right: known paths and parameters with values from
 * anywhere. No answer may be a fault (5xx), and none may differ from the document, which `remove` sees to.
 */
let api: TestApi;
let known: Record<string, string>;

beforeAll(async () => {
  api = testApi({ rates: { requestsPerMinute: 1_000_000, bytesPerMinute: 1e12 }, backlog: 1_000_000 });
  const { body } = await request(api.app).post("/v1/submissions").type("text/csv").send("Heat;C");
  await api.records.finish(body.id, finishedReport("fail"));
  await request(api.app).put("/v1/requirements/known").send({ requirement: 1, name: "known" });
  known = { id: body.id, sha256: body.documents[0].sha256, slug: "known", version: "1", code: "fault" };
});
afterAll(() => api.remove());

interface Parameter {
  readonly name: string;
  readonly in: "path" | "query" | "header" | "cookie";
}

const operations = Object.entries(openapiDocument([]).paths ?? {}).flatMap(([path, methods]) =>
  Object.entries(methods as Record<string, { parameters?: readonly Parameter[] }>).map(
    ([method, { parameters = [] }]) => {
      return { name: `${method.toUpperCase()} ${path}`, path, method, parameters };
    },
  ),
);

const anyText = fc.oneof(
  fc.string({ unit: "binary", maxLength: 40 }),
  fc.constantFrom(
    "",
    "0",
    "-1",
    "1e999",
    "null",
    "..",
    "__proto__",
    "%00",
    "'; DROP TABLE x--",
    "2026-13-45T99:99Z",
    "\u0000",
  ),
);
const headerText = fc.string({ unit: fc.integer({ min: 0x20, max: 0x7e }).map((code) => String.fromCharCode(code)) });
const contentType = fc.constantFrom(
  "application/json",
  "text/csv",
  "multipart/form-data",
  "multipart/form-data; boundary=x",
  "application/pdf",
  "application/json; charset=latin-9",
  "nonsense",
);
const part = fc.constantFrom(
  '--x\r\nContent-Disposition: form-data; name="document"; filename="a.csv"\r\n\r\nHeat;C\r\n',
  '--x\r\nContent-Disposition: form-data; name="requirement"\r\n\r\n{"requirement":1}\r\n',
  '--x\r\nContent-Disposition: form-data; name="callback"\r\n\r\n{"url":"javascript:1"}\r\n',
  '--x\r\nContent-Disposition: form-data; name="tag.__proto__"\r\n\r\n1\r\n',
  "--x\r\n\r\n",
  "--x--\r\n",
  "\r\n",
);
const body = fc.oneof(
  fc.json(),
  fc.string({ unit: "binary", maxLength: 200 }),
  fc.array(part, { maxLength: 5 }).map((parts) => parts.join("")),
  fc.record({ client: anyText, name: anyText, scopes: fc.array(anyText) }).map((value) => JSON.stringify(value)),
  fc.record({ heat: anyText, action: anyText, person: anyText, reason: anyText }).map((value) => JSON.stringify(value)),
  fc
    .record({ requirement: fc.constant(1), name: anyText, limits: fc.jsonValue() })
    .map((value) => JSON.stringify(value)),
);

it.each(operations.map((operation) => [operation.name, operation] as const))("%s", async (_name, operation) => {
  const { path, method, parameters } = operation;
  const ofPlace = (place: string) => parameters.filter((parameter) => parameter.in === place).map(({ name }) => name);
  const values = (names: readonly string[], value: fc.Arbitrary<string>) =>
    fc.record(Object.fromEntries(names.map((name) => [name, value])), { requiredKeys: [] });

  await fc.assert(
    fc.asyncProperty(
      fc.record({
        path: fc.record(
          Object.fromEntries(ofPlace("path").map((name) => [name, fc.option(anyText, { nil: undefined })])),
        ),
        query: values([...ofPlace("query"), "surprise"], anyText),
        headers: values([...ofPlace("header"), "If-Match", "If-None-Match", "Accept", "Range"], headerText),
        type: contentType,
        body,
      }),
      async (given) => {
        const url = path.replace(/\{(\w+)\}/g, (_, name: string) =>
          encodeURIComponent(wellFormed(given.path[name] ?? known[name] ?? "a")),
        );
        const query = new URLSearchParams(given.query as Record<string, string>).toString();
        const { Prefer: _prefer, ...headers } = given.headers as Record<string, string>;
        const send = request(api.app)[method as "get"](`${url}?${query}`).set(headers);
        const response = method === "get" ? await send : await send.set("Content-Type", given.type).send(given.body);
        expect(response.status).toBeLessThan(500);
      },
    ),
    { numRuns: 25, seed: 204 },
  );
});

/** A lone half of a surrogate pair cannot be written into an address. */
function wellFormed(text: string): string {
  return Buffer.from(text, "utf8").toString("utf8");
}
