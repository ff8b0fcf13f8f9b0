import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { finishedWith, storedDocument, storedHeat, storedReading, storedReport } from "../support/stored-heat.js";
import { type TestApi, testApi } from "../support/test-api.js";

const impact = (value: string, zone: "base" | "weld", temperature = "-196 °C") =>
  storedReading("KV", value, { zone, temperature, statistic: "single" });

const HEATS = [
  storedHeat("B3010", "301", [impact("38", "base"), impact("44", "base"), impact("41", "base")]),
  storedHeat("H4471", "304L", [
    ...["152", "165", "160"].map((value) => impact(value, "base")),
    ...["64", "58", "78"].map((value) => impact(value, "weld")),
    impact("240.0", "base", "20 °C"),
  ]),
];

let api: TestApi;
let ids: string[];
let theirs: string;

beforeEach(async () => {
  api = testApi();
  ids = [];
  theirs = `Bearer ${(await api.keys.create({ client: "other", name: "a", scopes: ["submit", "read"] }, "tests")).key}`;
  for (const name of ["0", "1", "2"]) {
    const response = await request(api.app)
      .post("/v1/submissions")
      .attach("document", Buffer.from(`Heat;C\nH${name};0,02\n`), "a.csv");
    ids.push(response.body.id);
  }
  const finish = (at: number) =>
    api.records.finish(ids[at]!, finishedWith(storedReport([HEATS[at]!], [storedDocument(`${at}.csv`)])));
  await finish(0);
  await finish(1);
});
afterEach(() => api.remove());

const compare = (body: object, headers: Record<string, string> = {}) =>
  request(api.app).post("/v1/comparisons").set(headers).send(body);
const both = () => ({ serviceTemperature: "-196 °C", of: [{ submission: ids[0] }, { submission: ids[1] }] });

describe("comparing heats of stored reports", () => {
  it("says who leads on what, with the stored digits", async () => {
    const { status, body } = await compare(both());
    expect(status).toBe(200);
    expect(body.properties.map(({ title }: { title: string }) => title)).toEqual([
      "impact energy KV, base",
      "impact energy KV, weld",
    ]);
    expect(body.properties[0].winner.message).toContain("304L, heat H4471, base leads with 159 J, against 41 J");
    expect(body.properties[0].rows[1].points.at(-1)).toEqual({ temperatureC: 20, value: 240, exact: "240.0" });
  });

  it("holds the mean and each piece to the project's minimums, given or stored under a name", async () => {
    const requirement = {
      requirement: 1,
      name: "T-204 shell",
      impact: [{ zone: "base", temperature: "-196 °C", average: "60 J", single: "42 J" }],
    };
    const meets = (body: { properties: { rows: { meets: boolean }[] }[] }) =>
      body.properties[0]!.rows.map((row) => row.meets);
    expect(meets((await compare({ ...both(), requirement })).body)).toEqual([false, true]);
    await request(api.app).put("/v1/requirements/t-204").send(requirement).expect(201);
    expect(meets((await compare({ ...both(), requirement: "t-204" })).body)).toEqual([false, true]);
  });

  it("is a page with pictures for people", async () => {
    const response = await compare(both(), { Accept: "text/html" });
    expect(response.type).toBe("text/html");
    expect(response.headers["content-security-policy"]).toContain("default-src 'none'");
    expect(response.text).toContain("<svg");
    expect(response.text).toContain("leads with 159 J");
  });

  it("takes only the heats named, however they are written", async () => {
    const { body } = await compare({ serviceTemperature: "77 K", of: [{ submission: ids[1], heats: ["h 4471"] }] });
    expect(body.properties[0].rows.map((row: { material: { heat: string } }) => row.material.heat)).toEqual(["H4471"]);
  });

  it.each<[what: string, change: () => object, status: number, code: string]>([
    ["a temperature without a unit", () => ({ serviceTemperature: "-196" }), 422, "comparison-invalid"],
    ["a misspelt name", () => ({ heats: ["H4471"] }), 422, "comparison-invalid"],
    ["no submission", () => ({ of: [] }), 422, "comparison-invalid"],
    ["a submission that is not there", () => ({ of: [{ submission: "none" }] }), 404, "submission-unknown"],
    ["a heat that is not there", () => ({ of: [{ submission: ids[0], heats: ["H9"] }] }), 404, "heat-unknown"],
    ["a report that is not ready", () => ({ of: [{ submission: ids[2] }] }), 409, "report-not-ready"],
    ["an unknown requirement", () => ({ requirement: "t-999" }), 404, "requirement-unknown"],
  ])("refuses %s", async (_what, change, status, code) => {
    const response = await compare({ ...both(), ...change() });
    expect([response.status, response.body.code]).toEqual([status, code]);
  });

  it("refuses broken JSON and forms that it does not have", async () => {
    const broken = await request(api.app).post("/v1/comparisons").type("application/json").send("{");
    expect(broken.body.code).toBe("json-broken");
    expect((await compare(both(), { Accept: "image/png" })).body.code).toBe("not-acceptable");
    expect((await request(api.app).get("/v1/comparisons")).status).toBe(405);
  });

  it("knows another client's submissions as little as one that never was", async () => {
    expect((await compare(both(), { Authorization: theirs })).body.code).toBe("submission-unknown");
  });

  it("needs the scope to read", async () => {
    const { key } = await api.keys.create({ client: "tarnholm", name: "b", scopes: ["submit"] }, "tests");
    const headers = { Authorization: `Bearer ${key}` };
    expect((await compare(both(), headers)).body.code).toBe("scope-missing");
    expect((await request(api.app).get("/v1/heat-history").set(headers)).body.code).toBe("scope-missing");
  });
});
