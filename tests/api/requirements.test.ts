import request from "supertest";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
beforeEach(() => {
  api = testApi();
});
afterEach(() => api.remove());

const PATH = "/v1/requirements/t-204-shell-plate";
const requirement = (max: string) => ({
  requirement: 1,
  name: "T-204 shell plate",
  limits: [{ quantity: "C", max, unit: "%", source: "T-204 specification 4.2" }],
});
const put = (max: string, headers: Record<string, string> = {}) =>
  request(api.app).put(PATH).set(headers).send(requirement(max));

describe("a stored requirement", () => {
  it("gets a new version with every change, and the old ones stay", async () => {
    expect((await put("0.030")).status).toBe(201);
    const second = await put("0.025");
    expect(second.status).toBe(201);
    expect(second.body).toMatchObject({ version: 2, createdBy: "tests" });
    expect((await request(api.app).get(PATH)).body.requirement).toEqual(requirement("0.025"));
    expect((await request(api.app).get(`${PATH}/versions/1`)).body.requirement).toEqual(requirement("0.030"));
    const versions = await request(api.app).get(`${PATH}/versions`);
    expect(versions.body.items.map(({ version }: { version: number }) => version)).toEqual([2, 1]);
  });

  it("put again as it is makes no version", async () => {
    await put("0.030");
    const again = await put("0.030");
    expect(again.status).toBe(200);
    expect(again.body.version).toBe(1);
  });

  it("is archived: neither listed nor chosen any more, still read, and takes no version until it is brought back", async () => {
    await put("0.030");
    await put("0.025");
    const archived = await request(api.app).delete(PATH);
    expect(archived.status).toBe(200);
    expect(archived.body).toMatchObject({ version: 2, archivedAt: expect.any(String) });
    expect((await request(api.app).get("/v1/requirements")).body.items).toEqual([]);
    expect((await request(api.app).get("/v1/requirements?archived=true")).body.items).toHaveLength(1);
    expect((await request(api.app).get(`${PATH}/versions/1`)).body.requirement).toEqual(requirement("0.030"));

    const submit = (name: string) =>
      request(api.app)
        .post(`/v1/submissions?requirement=${name}&again=true`)
        .type("text/csv")
        .send("Heat;C\nH1;0,02\n");
    for (const refused of [
      await submit("t-204-shell-plate"),
      await submit("t-204-shell-plate@1"),
      await put("0.020"),
    ]) {
      expect([refused.status, refused.body.code]).toEqual([409, "requirement-archived"]);
    }
    const restored = await request(api.app).post(`${PATH}/restore`);
    expect(restored.body).toMatchObject({ version: 2 });
    expect(restored.body.archivedAt).toBeUndefined();
    expect((await submit("t-204-shell-plate")).status).toBe(202);
    expect((await put("0.020")).body.version).toBe(3);
  });

  it("that is not there is neither archived nor brought back", async () => {
    expect((await request(api.app).delete(PATH)).body.code).toBe("requirement-unknown");
    expect((await request(api.app).post(`${PATH}/restore`)).body.code).toBe("requirement-unknown");
  });

  it("tells where two versions differ", async () => {
    await put("0.030");
    await put("0.025");
    const { body } = await request(api.app).get(`${PATH}/difference?before=1&after=2`);
    expect(body.items).toEqual([{ pointer: "/limits/0/max", before: "0.030", after: "0.025" }]);
  });

  it("is not overwritten by somebody who saw an older version", async () => {
    const first = await put("0.030");
    await put("0.025", { "If-Match": first.headers.etag as string });
    const late = await put("0.020", { "If-Match": first.headers.etag as string });
    expect(late.status).toBe(412);
    expect(late.body.code).toBe("version-outdated");
    expect((await put("0.020", { "If-None-Match": "*" })).status).toBe(412);
  });

  it("with faults is refused with a pointer to each", async () => {
    const response = await put("0,025");
    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([{ pointer: "/limits/0/max", detail: expect.any(String) }]);
  });

  it.each([
    ["an unknown name", "/v1/requirements/nothing"],
    ["an unknown version", `${PATH}/versions/9`],
    ["a version that is no number", `${PATH}/versions/one`],
    ["a difference to an unknown version", `${PATH}/difference?before=1&after=9`],
  ])("by %s is not there", async (_what, path) => {
    await put("0.030");
    const response = await request(api.app).get(path);
    expect(response.status).toBe(404);
    expect(response.body.code).toBe("requirement-unknown");
  });

  it("is listed by its newest version, and only to its owner", async () => {
    await put("0.030");
    await put("0.025");
    const listed = await request(api.app).get("/v1/requirements");
    expect(listed.body.items).toMatchObject([{ slug: "t-204-shell-plate", version: 2, name: "T-204 shell plate" }]);
    const { key } = await api.keys.create({ client: "other", name: "a", scopes: ["read"] }, "tests");
    const others = await request(api.app).get("/v1/requirements").set("Authorization", `Bearer ${key}`);
    expect(others.body.items).toEqual([]);
    expect((await request(api.app).get(PATH).set("Authorization", `Bearer ${key}`)).status).toBe(404);
  });
});

describe("a submission by reference", () => {
  const maxOf = (id: string) => api.records.kept.get(id)!.record.requirement?.limits?.[0]?.max;

  it.each([
    ["t-204-shell-plate", "0.025"],
    ["t-204-shell-plate@1", "0.030"],
  ])("to %s is held to it, as a body or a form", async (reference, max) => {
    await put("0.030");
    await put("0.025");
    const raw = await request(api.app).post(`/v1/submissions?requirement=${reference}`).type("text/csv").send("Heat;C");
    expect(maxOf(raw.body.id)).toBe(max);
    const form = await request(api.app)
      .post("/v1/submissions")
      .attach("document", Buffer.from("Heat;C"), "a.csv")
      .field("requirement", reference);
    expect(maxOf(form.body.id)).toBe(max);
  });

  it("to one that is not there is refused", async () => {
    const response = await request(api.app).post("/v1/submissions?requirement=t-9@1").type("text/csv").send("Heat;C");
    expect(response.body.code).toBe("requirement-unknown");
    expect(api.documents()).toEqual([]);
  });
});
