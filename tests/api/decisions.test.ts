import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
let path: string;

beforeEach(async () => {
  api = testApi();
  const { body } = await request(api.app).post("/v1/submissions").type("text/csv").send("Heat;C");
  path = `${body.links.self}/decisions`;
  await api.records.finish(body.id, finishedReport("fail"));
});
afterEach(() => api.remove());

const DECISION = {
  heat: "H4471",
  action: "concession",
  person: "M. Aurland",
  reason: "Carbon 0.034 % is within the weld procedure's range.",
  reference: "NCR 2026-041",
};

describe("a decision about a heat", () => {
  it("is kept with the verdict that it was made on", async () => {
    const made = await request(api.app).post(path).send(DECISION);
    expect(made.status).toBe(201);
    expect(made.body).toMatchObject({ ...DECISION, verdict: "fail" });
    expect((await request(api.app).get(path)).body.items).toEqual([made.body]);
  });

  it("does not replace an earlier one", async () => {
    await request(api.app).post(path).send(DECISION);
    await request(api.app)
      .post(path)
      .send({ ...DECISION, action: "return" });
    const { body } = await request(api.app).get(path);
    expect(body.items.map(({ action }: { action: string }) => action)).toEqual(["concession", "return"]);
  });

  it.each([
    ["about another heat", { ...DECISION, heat: "H1" }, 404, "heat-unknown"],
    ["without a name", { ...DECISION, person: "  " }, 422, "decision-invalid"],
    ["without a reason", { ...DECISION, reason: undefined }, 422, "decision-invalid"],
    ["of a kind of its own", { ...DECISION, action: "melt" }, 422, "decision-invalid"],
  ])("%s is refused", async (_what, decision, status, code) => {
    const response = await request(api.app).post(path).send(decision);
    expect(response.status).toBe(status);
    expect(response.body.code).toBe(code);
  });

  it("is not possible before there is a report", async () => {
    const { body } = await request(api.app).post("/v1/submissions").type("text/csv").send("Heat;Mn");
    const response = await request(api.app).post(`${body.links.self}/decisions`).send(DECISION);
    expect(response.body.code).toBe("heat-unknown");
  });
});
