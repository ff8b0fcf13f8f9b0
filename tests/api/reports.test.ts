import { parse } from "content-disposition";
import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Evidence } from "../../core/certificate/evidence.js";
import type { Report } from "../../core/report/report.js";
import { HOSTILE_NAMES } from "../support/hostile-names.js";
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

/** One reading that nobody is certain of. */
function reportWithDoubtAt(evidence: Evidence) {
  const finished = finishedReport("undetermined");
  const report = JSON.parse(finished.json) as Report;
  const reading = { id: 1, quantity: "C", printed: "0.02", value: "0.02", unit: "%", confidence: 0.3, evidence };
  const document = { name: "scan.pdf", sha256: "1".repeat(64), reader: "pdf", doubts: [] };
  const changed: Report = {
    ...report,
    documents: [document],
    heats: [{ ...report.heats[0]!, evidence: [evidence], readings: [reading] }],
  };
  return { ...finished, json: JSON.stringify(changed), report: changed };
}

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

  it("shows what stands in the documents as a page, and only there", async () => {
    const evidence = { document: 0, page: 1, box: [1, 2, 3, 4] } as const;
    const { report, ...finished } = reportWithDoubtAt(evidence);
    const pictures = [{ spot: evidence, picture: { png: "iVBORw0KGgo=", widthPx: 9, heightPx: 9 } }];
    await api.records.finish(links.self.split("/").at(-1)!, { ...finished, pictures });
    const page = await request(api.app).get(links.report).set("Accept", "text/html");
    expect(page.text).toContain('src="data:image/png;base64,iVBORw0KGgo="');
    expect(page.headers["content-security-policy"]).toContain("img-src data:");
    const json = await request(api.app).get(links.report).set("Accept", "application/json");
    expect(json.body).toEqual(report);
    const inspection = await request(api.app).get(`/submissions/${links.self.split("/").at(-1)}`);
    expect(inspection.text).toContain('src="data:image/png;base64,iVBORw0KGgo="');
    expect(inspection.headers["content-security-policy"]).toContain("img-src 'self' data:");
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

  it.each(HOSTILE_NAMES.filter((name) => !/[\0\p{Cs}]/u.test(name)))(
    "handed in as %j is given a name that is no path",
    async (name) => {
      const { body } = await request(api.app)
        .post("/v1/submissions")
        .query({ name })
        .type("application/octet-stream")
        .send(`Heat;C\n${name.length};1\n`);
      const response = await request(api.app).get(body.documents[0].link).buffer();
      expect(response.status).toBe(200);
      const { type, parameters } = parse(response.headers["content-disposition"] as string);
      expect(type).toBe("attachment");
      expect(parameters.filename).toBe(body.documents[0].name);
      expect(parameters.filename).toMatch(/^[^/\\\p{Cc}\p{Cf}]{1,200}$/u);
      expect(response.headers["set-cookie"]).toBeUndefined();
    },
  );

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
