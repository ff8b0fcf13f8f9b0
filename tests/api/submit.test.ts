import { createHash } from "node:crypto";
import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

const CSV = "Heat;C\nH4471;0,021\n";
const sha256 = (text: string) => createHash("sha256").update(text).digest("hex");

let api: TestApi;
beforeEach(() => {
  api = testApi();
});
afterEach(() => {
  expect(api.uploads()).toEqual([]);
  api.remove();
});

describe("one document as the body", () => {
  it("is accepted with 202, a place to look and a time to look again", async () => {
    const response = await request(api.app)
      .post("/v1/submissions")
      .set("Content-Type", "text/csv")
      .set("Content-Disposition", 'attachment; filename="H4471.csv"')
      .send(CSV);
    expect(response.status).toBe(202);
    expect(response.headers.location).toBe(`/v1/submissions/${response.body.id}`);
    expect(response.headers["retry-after"]).toBe("1");
    expect(response.body).toMatchObject({
      state: "accepted",
      requirement: null,
      documents: [{ name: "H4471.csv", sha256: sha256(CSV), bytes: CSV.length, mediaType: "text/csv" }],
    });
    expect(api.documents()).toEqual([sha256(CSV)]);
  });

  it.each([
    ["attachment; filename*=UTF-8''Schmelze%20%C3%BC.csv", "Schmelze ü.csv"],
    ['attachment; filename="../../etc/passwd"', "passwd"],
    ['attachment; filename="C:\\\\certs\\\\a.csv"', "a.csv"],
    ["attachment", "document"],
  ])("with %s is called %s", async (disposition, name) => {
    const response = await request(api.app)
      .post("/v1/submissions")
      .set("Content-Type", "text/csv")
      .set("Content-Disposition", disposition)
      .send(CSV);
    expect(response.body.documents[0].name).toBe(name);
  });

  it("takes its name from ?name= where there is no Content-Disposition", async () => {
    const response = await request(api.app).post("/v1/submissions?name=b.csv").type("text/csv").send(CSV);
    expect(response.body.documents[0].name).toBe("b.csv");
  });
});

describe("beside the body, the address", () => {
  const raw = (query: string) => request(api.app).post(`/v1/submissions?${query}`).type("text/csv").send(CSV);
  const parts = (query: string) =>
    request(api.app).post(`/v1/submissions?${query}`).attach("document", Buffer.from(CSV), "a.csv");

  it("tags a document that is the body", async () => {
    const { body } = await raw("tag=order:4500012&tag=item:10");
    expect(body.tags).toEqual({ order: "4500012", item: "10" });
    expect((await raw("tag=9:x")).body.code).toBe("tags-invalid");
  });

  it("names a stored requirement, for parts as well", async () => {
    await request(api.app).put("/v1/requirements/t-204").send({ requirement: 1, name: "T-204" });
    expect((await raw("requirement=t-204@1")).body.requirement).toEqual({ name: "T-204" });
    expect((await parts("requirement=t-204")).body.requirement).toEqual({ name: "T-204" });
  });

  it("with a misspelt name is refused: it would be judged against less than was asked for", async () => {
    for (const send of [raw, parts]) {
      const { body } = await send("requirment=t-204");
      expect(body).toMatchObject({ code: "parameter-invalid", errors: [{ pointer: "requirment" }] });
      expect(body.errors[0].detail).toContain("requirement");
    }
    expect(api.records.kept.size).toBe(0);
  });

  it("does not say once more what parts say", async () => {
    const twice = await parts("requirement=t-204").field("requirement", '{"requirement":1,"name":"other"}');
    expect(twice.body).toMatchObject({ code: "parameter-invalid", errors: [{ pointer: "requirement" }] });
    expect((await parts("name=b.csv")).body.errors[0].pointer).toBe("name");
    expect((await parts("tag=order:1")).body.errors[0].pointer).toBe("tag");
  });

  it("and a body that curl calls a form is a document of no declared type", async () => {
    const response = await request(api.app)
      .post("/v1/submissions?name=a.csv")
      .type("application/x-www-form-urlencoded")
      .send(CSV);
    expect(response.body.documents[0].mediaType).toBe("application/octet-stream");
  });
});

describe("several documents as multipart", () => {
  it("are one submission with its requirement, callback and tags", async () => {
    const response = await request(api.app)
      .post("/v1/submissions")
      .attach("document", Buffer.from(CSV), "a.csv")
      .attach("document", Buffer.from("Heat;Mn\nH4471;1,5\n"), "b.csv")
      .field("requirement", JSON.stringify({ requirement: 1, name: "T-204 shell plate" }))
      .field("callback", JSON.stringify({ url: "https://receiver.example/hook" }))
      .field("tags", JSON.stringify({ order: "4500012" }));
    expect(response.status).toBe(202);
    expect(response.body.documents.map((document: { name: string }) => document.name)).toEqual(["a.csv", "b.csv"]);
    expect(response.body.requirement).toEqual({ name: "T-204 shell plate" });
    expect(response.body.tags).toEqual({ order: "4500012" });
    expect(response.body.callback.url).toBe("https://receiver.example/hook");
    expect(response.body.callback.secret).toMatch(/^whsec_/);
  });

  it("may carry the requirement as a file part", async () => {
    const response = await request(api.app)
      .post("/v1/submissions")
      .attach("requirement", Buffer.from('{"requirement":1,"name":"file"}'), "requirement.json")
      .attach("document", Buffer.from(CSV), "a.csv");
    expect(response.body.requirement).toEqual({ name: "file" });
  });

  it("never tells a secret that the sender gave, nor a made one twice", async () => {
    const secret = `whsec_${Buffer.alloc(32, 7).toString("base64")}`;
    const given = await request(api.app)
      .post("/v1/submissions")
      .attach("document", Buffer.from(CSV), "a.csv")
      .field("callback", JSON.stringify({ url: "https://receiver.example/hook", secret }));
    expect(given.body.callback).toEqual({ url: "https://receiver.example/hook" });
    const made = await request(api.app)
      .post("/v1/submissions")
      .attach("document", Buffer.from(CSV), "a.csv")
      .field("callback", JSON.stringify({ url: "https://receiver.example/hook" }));
    const later = await request(api.app).get(made.headers.location as string);
    expect(later.body.callback).toEqual({ url: "https://receiver.example/hook" });
  });
});

describe("waiting", () => {
  it("answers 200 with the report in one call", async () => {
    api.records.onCreated((record) => setTimeout(() => api.records.finish(record.id, finishedReport("fail")), 20));
    const response = await request(api.app).post("/v1/submissions").set("Prefer", "wait=20").type("text/csv").send(CSV);
    expect(response.status).toBe(200);
    expect(response.headers["preference-applied"]).toBe("wait=20");
    expect(response.body).toMatchObject({ state: "done", verdict: "fail", report: { report: 1, verdict: "fail" } });
    expect(response.text).toContain(finishedReport("fail").json);
    expect(response.body.heats).toEqual([
      {
        heat: "H4471",
        verdict: "fail",
        findings: { fail: 1, undetermined: 0, pass: 0, "not-applicable": 0 },
        reasons: [{ outcome: "fail", quantity: "C", message: "Carbon 0.034 % is above the 0.030 % ceiling." }],
      },
    ]);
  });

  it("answers 202 when the time is over first", async () => {
    const response = await request(api.app).post("/v1/submissions").set("Prefer", "wait=0").type("text/csv").send(CSV);
    expect(response.status).toBe(202);
    expect(response.headers["preference-applied"]).toBe("wait=0");
  });

  it("works on the submission as well, and never for longer than 25 seconds", async () => {
    const { body } = await request(api.app).post("/v1/submissions").type("text/csv").send(CSV);
    setTimeout(() => api.records.finish(body.id, finishedReport("pass")), 20);
    const response = await request(api.app).get(body.links.self).set("Prefer", "respond-async, wait=600");
    expect(response.headers["preference-applied"]).toBe("wait=25");
    expect(response.body).toMatchObject({ state: "done", verdict: "pass" });
  });

  it("tells of a failed submission as what it is", async () => {
    const failure = { code: "document-broken", message: "The workbook ends in the middle." };
    api.records.onCreated((record) => api.records.fail(record.id, failure));
    const response = await request(api.app).post("/v1/submissions").set("Prefer", "wait=5").type("text/csv").send(CSV);
    expect(response.status).toBe(200);
    expect(response.body).toMatchObject({ state: "failed", failure });
    const report = await request(api.app).get(response.body.links.report);
    expect(report.status).toBe(409);
    expect(report.body).toMatchObject({ code: "submission-failed", detail: failure.message });
  });
});
