import fc from "fast-check";
import request from "supertest";
import { afterAll, beforeAll, expect, it } from "vitest";
import { openapiDocument } from "../../api/openapi/document.js";
import { loadLibrary } from "../../worker/store/grade-files.js";
import { arbitraryOf, type JsonSchema } from "../support/arbitrary-of.js";
import { spokenVerifier } from "../support/spoken-certificate.js";
import { type StoredApi, storedApi } from "../support/stored-api.js";

/**
 * Every operation of the document under requests that are half right: known paths and parameters with values from
 * anywhere, bodies made from the schema that the document has for them. No answer may be a fault (5xx), and none may
 * differ from the document, which `close` sees to. Against a real database: what a memory takes, PostgreSQL may refuse.
 */
const NOBODY_LISTENS = "http://127.0.0.1:1/";

let stored: StoredApi;
let api: StoredApi["api"];
let known: Readonly<Record<string, string>>;

beforeAll(async () => {
  const verifier = { ...spokenVerifier(), library: await loadLibrary([]) };
  stored = await storedApi(verifier, {
    rates: { requestsPerMinute: 1_000_000, bytesPerMinute: 1e12 },
    backlog: 1_000_000,
    callbackProblem: (url) => (url.startsWith(NOBODY_LISTENS) ? undefined : "It is not the receiver."),
    library: verifier.library,
  });
  ({ api } = stored);
  const submission = await request(api.app)
    .post("/v1/submissions")
    .set("Prefer", "wait=20")
    .attach("document", Buffer.from("N2001 0.021 Norrvik\nN2002 0.034 Norrvik"), "a.txt");
  expect(submission.body.state).toBe("done");
  const { id, documents } = submission.body;
  await request(api.app).put("/v1/requirements/known").send({ requirement: 1, name: "known" });
  const dryRun = await request(api.app).post(`/v1/submissions/${id}/dry-runs`).send({ requirement: "known" });
  const endpoint = await request(api.app).post("/v1/endpoints").send({ url: NOBODY_LISTENS });
  const key = await request(api.app)
    .post("/v1/keys")
    .send({ client: "other", name: "a", scopes: ["read"] });
  const signingKey = await request(api.app).post("/v1/signing-keys");
  known = {
    "/v1/submissions/{id}": id,
    "/v1/endpoints/{id}": endpoint.body.id,
    "/v1/keys/{id}": key.body.id,
    sha256: documents[0].sha256,
    slug: "known",
    version: "1",
    code: "fault",
    dryRun: dryRun.body.id,
    keyId: signingKey.body.kid,
    standard: "astm-a240",
    edition: "2007e1",
    grade: "s30403",
  };
  expect(Object.entries(known).filter(([, value]) => typeof value !== "string")).toEqual([]);
}, 120_000);
afterAll(() => stored.close());

/** What a path's parameter is called in `known`: an id by what it is of. */
function knownValue(path: string, name: string): string {
  return known[name] ?? known[path.slice(0, path.indexOf(`{${name}}`) + name.length + 2)] ?? "a";
}

interface Parameter {
  readonly name: string;
  readonly in: "path" | "query" | "header" | "cookie";
  readonly schema?: JsonSchema;
}

interface Operation {
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema?: JsonSchema }>> };
}

const description = openapiDocument([]);
const operations = Object.entries(description.paths ?? {}).flatMap(([path, methods]) =>
  Object.entries(methods as Record<string, Operation>).map(([method, { parameters = [], requestBody }]) => {
    const schema = requestBody?.content["application/json"]?.schema;
    return { name: `${method.toUpperCase()} ${path}`, path, method, parameters, schema };
  }),
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
const anyBody = fc.oneof(
  fc.json(),
  fc.string({ unit: "binary", maxLength: 200 }),
  fc.array(part, { maxLength: 5 }).map((parts) => parts.join("")),
);
const components = (description.components?.schemas ?? {}) as Readonly<Record<string, JsonSchema>>;
const USUAL = {
  heat: "N2001",
  heats: "N2001",
  url: NOBODY_LISTENS,
  requirement: "known@1",
  serviceTemperature: "-196 °C",
  temperature: "-196 °C",
  average: "60 J",
  max: "0.030",
  unit: "%",
  grade: "S30403",
  text: "304L",
  before: "1",
  after: "1",
};
const bodyOf = (schema: JsonSchema | undefined) =>
  schema === undefined
    ? anyBody
    : fc.oneof(
        { weight: 4, arbitrary: arbitraryOf(schema, components, anyText, USUAL).map((value) => JSON.stringify(value)) },
        { weight: 1, arbitrary: anyBody },
      );
/** As its schema wants it; a name that is none of its own now and then. */
const queryOf = (parameters: readonly Parameter[]) => {
  const inQuery = parameters.filter((parameter) => parameter.in === "query");
  const fits = fc.record(
    Object.fromEntries(
      inQuery.map(({ name, schema = {} }) => [name, arbitraryOf(schema, components, anyText, USUAL).map(String)]),
    ),
    { requiredKeys: [] },
  );
  const surprise = fc.option(anyText, { nil: undefined, freq: 10 });
  return fc.tuple(fits, surprise).map(([query, text]) => (text === undefined ? query : { ...query, surprise: text }));
};
/** `*` is every ETag: it must be answered 304 wherever there is one, and nowhere else. */
const conditional = fc.oneof(headerText, fc.constantFrom("*", '"1"'));

it.each(operations.map((operation) => [operation.name, operation] as const))("%s", async (_name, operation) => {
  const { path, method, parameters, schema } = operation;
  const ofPlace = (place: string) => parameters.filter((parameter) => parameter.in === place).map(({ name }) => name);
  const values = (names: readonly string[], value: fc.Arbitrary<string>) =>
    fc.record(Object.fromEntries(names.map((name) => [name, value])), { requiredKeys: [] });

  await fc.assert(
    fc.asyncProperty(
      fc.record({
        path: fc.record(
          Object.fromEntries(ofPlace("path").map((name) => [name, fc.option(anyText, { nil: undefined })])),
        ),
        query: queryOf(parameters),
        headers: values([...ofPlace("header"), "If-Match", "If-None-Match", "Accept", "Range"], conditional),
        type: contentType,
        body: bodyOf(schema),
      }),
      async (given) => {
        const url = path.replace(/\{(\w+)\}/g, (_, name: string) =>
          encodeURIComponent(wellFormed(given.path[name] ?? knownValue(path, name))),
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
