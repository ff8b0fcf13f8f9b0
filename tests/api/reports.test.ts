import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
let links: { self: string; report: string };
let documentLink: string;

beforeEach(async () => {
  api = testApi();
  const { body } = await request(api.app).post("/v1/submissions?name=a%22b.csv").type("text/csv").send("Heat;C\nA;1\n");
  links = body.links;
  documentLink = body.documents[0].link;
});
afterEach(() => api.remove());

const finish = () => api.records.finish(links.self.split("/").at(-1)!, finishedReport("fail"));

describe("the report", () => {
  it("is not there before the work is done", async () => {
    const response = await request(api.app).get(links.report);
    expect(response.status).toBe(409);
    expect(response.headers["retry-after"]).toBe("1");
    expect(response.body.code).toBe("report-not-ready");
  });

  it("is given as the stored bytes, with their digest as tag", async () => {
    await finish();
    const response = await request(api.app).get(links.report).set("Accept", "application/json");
    expect(response.text).toBe(finishedReport("fail").json);
    expect(response.headers.etag).toBe(`"${finishedReport("fail").digest}"`);
    expect(response.headers.vary).toContain("Accept");
  });

  it.each([
    ["application/json", "application/json"],
    ["*/*", "application/json"],
    ["text/html,application/xhtml+xml;q=0.9,*/*;q=0.8", "text/html"],
    ["application/json;q=0.5, text/html", "text/html"],
    ["text/plain", "text/plain"],
    ["application/xml", "application/xml"],
    ["application/sarif+json", "application/sarif+json"],
  ])("asked for as %s is %s", async (accept, type) => {
    await finish();
    const response = await request(api.app).get(links.report).set("Accept", accept);
    expect(response.status).toBe(200);
    expect(response.headers["content-type"]).toContain(type);
  });

  it.each([
    ["html", "text/html"],
    ["json", "application/json"],
    ["sarif", "application/sarif+json"],
  ])("asked for by a link as %s is %s", async (format, type) => {
    await finish();
    const response = await request(api.app).get(`${links.report}?format=${format}`).set("Accept", "image/png");
    expect(response.headers["content-type"]).toContain(type);
  });

  it("asked for by a link in no known form is refused with the forms that are", async () => {
    await finish();
    const response = await request(api.app).get(`${links.report}?format=docx`);
    expect(response.status).toBe(400);
    expect(response.body.errors).toEqual([{ pointer: "format", detail: expect.stringContaining("junit") }]);
  });

  it("asked for in a form that does not exist is refused with the forms that do", async () => {
    await finish();
    const response = await request(api.app).get(links.report).set("Accept", "audio/ogg");
    expect(response.status).toBe(406);
    expect(response.body.detail).toContain("text/html");
  });

  it.each(["application/json", "text/html"])("known already as %s costs a 304", async (accept) => {
    await finish();
    const first = await request(api.app).get(links.report).set("Accept", accept);
    const again = await request(api.app)
      .get(links.report)
      .set("Accept", accept)
      .set("If-None-Match", first.headers.etag as string);
    expect(again.status).toBe(304);
    const otherwise = await request(api.app).get(links.report).set("Accept", accept).set("If-None-Match", '"other"');
    expect(otherwise.status).toBe(200);
  });

  it("as a page may run and fetch nothing", async () => {
    await finish();
    const response = await request(api.app).get(links.report).set("Accept", "text/html");
    expect(response.headers["content-security-policy"]).toContain("default-src 'none'");
  });
});

describe("a document", () => {
  it("comes back byte for byte, as a download that no browser shows", async () => {
    const response = await request(api.app).get(documentLink).buffer();
    expect(Buffer.from(response.body).toString()).toBe("Heat;C\nA;1\n");
    expect(response.headers["content-disposition"]).toBe('attachment; filename="a\\"b.csv"');
    expect(response.headers["content-type"]).toBe("application/octet-stream");
    expect(response.headers["x-content-type-options"]).toBe("nosniff");
  });

  it("of another submission is not there", async () => {
    const other = documentLink.replace(/.{64}$/, "0".repeat(64));
    expect((await request(api.app).get(other)).body.code).toBe("document-unknown");
  });
});

describe("the submission", () => {
  it("costs a 304 while nothing changed", async () => {
    const first = await request(api.app).get(links.self);
    const again = await request(api.app)
      .get(links.self)
      .set("If-None-Match", first.headers.etag as string);
    expect(again.status).toBe(304);
    await finish();
    const changed = await request(api.app)
      .get(links.self)
      .set("If-None-Match", first.headers.etag as string);
    expect(changed.status).toBe(200);
  });
});
