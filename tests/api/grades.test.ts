import request from "supertest";
import { afterEach, beforeEach, expect, it } from "vitest";
import { loadLibrary } from "../../worker/store/grade-files.js";
import { type TestApi, testApi } from "../support/test-api.js";

const library = await loadLibrary();

let api: TestApi;
beforeEach(() => {
  api = testApi({ library });
});
afterEach(() => api.remove());

it("grades are found by what people call them", async () => {
  const { body } = await request(api.app).get("/v1/grades?text=304l");
  const ids = body.items.map(({ id }: { id: string }) => id);
  expect(ids).toContain("astm-a240/2007e1/s30403");
  expect(ids.length).toBeLessThan(library.grades.length);
  expect((await request(api.app).get("/v1/grades")).body.items).toHaveLength(library.grades.length);
});

it("every grade held can be read, with clause and source of each limit", async () => {
  const { body } = await request(api.app).get("/v1/grades/astm-a240/2007e1/s30403");
  const carbon = body.grade.limits.find(({ id }: { id: string }) => id === "C");
  expect(carbon).toMatchObject({
    max: "0.030",
    unit: "%",
    source: { clause: expect.any(String) },
    known: { how: expect.any(String) },
  });
  expect(body.digest).toMatch(/^sha256:[0-9a-f]{64}$/);
});

it("the answers for all grades are as the document says", async () => {
  for (const { grade } of library.grades)
    expect((await request(api.app).get(`/v1/grades/${grade.id}`)).status).toBe(200);
});

it("a grade that is not held is not there", async () => {
  const response = await request(api.app).get("/v1/grades/astm-a240/1066/s30403");
  expect(response.body.code).toBe("grade-unknown");
});
