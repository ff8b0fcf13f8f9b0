import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Report } from "../../core/report/report.js";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
let id: string;
let sha256: string;

beforeEach(async () => {
  api = testApi();
  const { body } = await request(api.app).post("/v1/submissions").type("text/csv").send("Heat;C\nH4471;0,0l8\n");
  id = body.id;
  sha256 = body.documents[0].sha256;
  await api.records.finish(id, doubtfulReport());
});
afterEach(() => api.remove());

/** Carbon was read with too little confidence to decide. */
function doubtfulReport(change: Partial<Report["heats"][0]> = {}) {
  const finished = finishedReport("undetermined");
  const report = JSON.parse(finished.json) as Report;
  const reading = {
    id: 1,
    quantity: "C",
    printed: "0,0l8",
    value: "0.018",
    unit: "%",
    confidence: 0.5,
    evidence: { document: 0, line: 2, column: 2 },
  };
  const documents = [{ name: "cert.csv", sha256, reader: "csv", doubts: [] }];
  const heats = report.heats.map((heat) => ({ ...heat, readings: [reading], ...change }));
  return { ...finished, json: JSON.stringify({ ...report, documents, heats }) };
}

const corrections = (change: object = {}) => ({
  corrections: 1,
  by: "M. Aurland",
  date: "2026-11-25",
  items: [{ document: sha256, evidence: { line: 2, column: 2 }, quantity: "C", value: "0.024", unit: "%", ...change }],
});
const correct = (body: object, path = id) => request(api.app).post(`/v1/submissions/${path}/corrections`).send(body);

describe("corrections", () => {
  it("make a submission of its own over the same documents, and leave the first as it was", async () => {
    const before = await request(api.app).get(`/v1/submissions/${id}/report`);
    const corrected = await correct(corrections());
    expect(corrected.status).toBe(202);
    expect(corrected.body).toMatchObject({ state: "accepted", correctionOf: id, documents: [{ sha256 }] });
    expect(api.records.kept.get(corrected.body.id)?.record.correction).toEqual({ of: id, corrections: corrections() });
    expect((await request(api.app).get(`/v1/submissions/${id}/report`)).text).toBe(before.text);
  });

  it.each([
    ["of a document that was not handed in", { document: "0".repeat(64) }, "/items/0/document"],
    ["of a quantity that is none", { quantity: "Xx" }, "/items/0/quantity"],
    ["from nowhere", { evidence: {} }, "/items/0/evidence"],
  ])("%s are refused with a pointer", async (_what, change, pointer) => {
    const response = await correct(corrections(change));
    expect(response.status).toBe(422);
    expect(response.body.errors).toMatchObject([{ pointer }]);
  });

  it("of a correction are sent to the first submission instead", async () => {
    const corrected = await correct(corrections());
    await api.records.finish(corrected.body.id, finishedReport("pass"));
    const again = await correct(corrections(), corrected.body.id);
    expect(again.status).toBe(409);
    expect(again.body.detail).toContain(id);
  });

  it("wait for the report", async () => {
    const { body } = await request(api.app).post("/v1/submissions").type("text/csv").send("Heat;Mn");
    expect((await correct(corrections(), body.id)).body.code).toBe("report-not-ready");
  });
});

describe("on the page", () => {
  const confirm = (fields: object) =>
    request(api.app)
      .post(`/submissions/${id}/corrections`)
      .set({ Accept: "text/html" })
      .type("form")
      .send({ by: "M. Aurland", ...fields });
  const itemsOf = (location: string) =>
    api.records.kept.get(location.split("/").at(-1)!)?.record.correction?.corrections.items;

  it("a doubtful reading is shown with what stood there", async () => {
    const { text } = await request(api.app).get(`/submissions/${id}`).set("Accept", "text/html");
    expect(text).toContain('value="0.018"');
    expect(text).toContain("<q>0,0l8</q>");
    expect(text).toContain("Read, but held to no limit: C.");
  });

  it.each([
    ["as it is: confirmed", "0.018", {}],
    ["changed: corrected, with a decimal comma as well", "0,019", { value: "0.019", unit: "%" }],
  ])("sent %s", async (_what, value, expected) => {
    const response = await confirm({ "reading-0": value });
    expect(response.status).toBe(303);
    const item = { document: sha256, evidence: { line: 2, column: 2 }, quantity: "C", ...expected };
    expect(itemsOf(response.headers.location as string)).toEqual([item]);
  });

  it("a heat number that only the scan tells is shown and asked for before the values, and is confirmed or corrected too", async () => {
    const inDoubt = { quantity: "heat number", outcome: "undetermined" } as Report["heats"][0]["findings"][0];
    const other = await request(api.app).post("/v1/submissions").type("text/csv").send("Heat;C\nH4471;0,0l8\n\n");
    ({
      id,
      documents: [{ sha256 }],
    } = other.body);
    const change = { findings: [inDoubt], evidence: [{ document: 0, line: 2, column: 1 }] };
    await api.records.finish(id, doubtfulReport(change));
    const { text } = await request(api.app).get(`/submissions/${id}`).set("Accept", "text/html");
    expect(text).toContain('<input id="reading-0" name="reading-0" value="H4471" aria-describedby');
    const place = { document: sha256, evidence: { line: 2, column: 1 }, quantity: "heat" };
    const confirmed = await confirm({ "reading-0": "H4471", "reading-1": "" });
    expect(itemsOf(confirmed.headers.location as string)).toEqual([place]);
    const corrected = await confirm({ "reading-0": "H447,1", "reading-1": "0.018" });
    expect(itemsOf(corrected.headers.location as string)?.[0]).toEqual({ ...place, value: "H447,1" });
  });

  it("with nothing filled in is refused", async () => {
    const response = await confirm({ "reading-0": "" });
    expect(response.status).toBe(422);
    expect(response.headers["content-type"]).toContain("text/html");
  });
});
