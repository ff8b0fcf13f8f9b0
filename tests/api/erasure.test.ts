import request from "supertest";
import { afterEach, beforeEach, expect, it } from "vitest";
import { finishedReport, type TestApi, testApi } from "../support/test-api.js";

let api: TestApi;
let removed: (readonly string[])[];
beforeEach(() => {
  removed = [];
  api = testApi({ eraseBytes: async (sha256s) => void removed.push(sha256s) });
});
afterEach(() => api.remove());

const asked = { person: "M. Aurland", reason: "Sent by mistake.", reference: "C-17" };
const submit = (headers: Record<string, string> = {}) =>
  request(api.app).post("/v1/submissions").set(headers).type("text/csv").send("Heat;C\nH4471;0,021\n");

async function erased() {
  const { body } = await submit();
  await api.records.finish(body.id, finishedReport("fail"));
  const answer = await request(api.app).post(`/v1/submissions/${body.id}/erasure`).send(asked);
  return { id: body.id as string, sha256: body.documents[0].sha256 as string, answer };
}

it("answers with what is left, and removes the bytes", async () => {
  const { id, sha256, answer } = await erased();
  expect(answer.status).toBe(200);
  expect(answer.body).toMatchObject({ submission: id, documents: [sha256], key: "tests", ...asked });
  expect(removed).toEqual([[sha256]]);
  expect((await request(api.app).get(`/v1/submissions/${id}/erasure`)).body).toEqual(answer.body);
});

it("answers 410 with when, who and why at every address of it, and to a second request to erase", async () => {
  const { id, sha256 } = await erased();
  const get = ["", "/report", "/report/signature", `/documents/${sha256}`, "/deliveries", "/decisions", "/grades"];
  const answers = [
    ...(await Promise.all(get.map((path) => request(api.app).get(`/v1/submissions/${id}${path}`)))),
    ...(await Promise.all(
      ["/decisions", "/corrections", "/dry-runs", "/deliveries", "/erasure"].map((path) =>
        request(api.app).post(`/v1/submissions/${id}${path}`).send(asked),
      ),
    )),
    await request(api.app)
      .post("/v1/comparisons")
      .send({ serviceTemperature: "-196 °C", of: [{ submission: id }] }),
  ];
  for (const { status, body, request: asking } of answers) {
    expect([status, body.code], (asking as { url?: string }).url).toEqual([410, "submission-erased"]);
  }
  expect(answers[0]!.body.detail).toMatch(/erased on 20\d\d-.* by M\. Aurland: Sent by mistake\. \(C-17\)$/);
  const page = await request(api.app).get(`/submissions/${id}`).set("Accept", "text/html");
  expect(page.status).toBe(410);
  expect(page.text).toContain("Sent by mistake.");
});

it("tells another client nothing of it, neither by the API nor on a page", async () => {
  const { id } = await erased();
  const { key } = await api.keys.create({ client: "elsewhere", name: "a", scopes: ["read", "admin"] }, "tests");
  for (const path of [`/v1/submissions/${id}`, `/v1/submissions/${id}/erasure`, `/v1/submissions/${id}/report`]) {
    const { status, body } = await request(api.app).get(path).set("Authorization", `Bearer ${key}`);
    expect([status, body.code], path).toEqual([404, "submission-unknown"]);
  }
  const page = await request(api.app)
    .get(`/submissions/${id}`)
    .set({ Authorization: `Bearer ${key}`, Accept: "text/html" });
  expect(page.status).toBe(404);
  expect(page.text).not.toContain("Aurland");
});

it("tells an erased submission from one that is there and from one that never was", async () => {
  const { body } = await submit();
  const kept = await request(api.app).get(`/v1/submissions/${body.id}/erasure`);
  expect(kept.body.code).toBe("erasure-unknown");
  const never = await request(api.app).get("/v1/submissions/0197b2c4-0000-7000-8000-000000000000/erasure");
  expect(never.body.code).toBe("submission-unknown");
});

it("wants a person and a reason, and erases nothing without", async () => {
  const { body } = await submit();
  const answer = await request(api.app).post(`/v1/submissions/${body.id}/erasure`).send({ person: " ", because: "x" });
  expect(answer.body.code).toBe("erasure-invalid");
  expect(answer.body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual([
    "/person",
    "/reason",
    "/because",
  ]);
  expect((await request(api.app).get(`/v1/submissions/${body.id}`)).status).toBe(200);
});

it("answers the repeated request of an erased submission with 410, and takes the same content in anew without its key", async () => {
  const key = { "Idempotency-Key": '"one"' };
  const { body } = await submit(key);
  await request(api.app).post(`/v1/submissions/${body.id}/erasure`).send(asked);
  expect((await submit(key)).body.code).toBe("submission-erased");
  const other = await request(api.app).post("/v1/submissions").set(key).type("text/csv").send("Heat;C\nother\n");
  expect(other.body.code).toBe("idempotency-key-reused");
  const again = await submit();
  expect(again.status).toBe(202);
  expect(again.headers["heatgate-duplicate"]).toBeUndefined();
});

it("wakes a sender that waits, with 410", async () => {
  const { body } = await submit();
  const waiting = request(api.app)
    .get(`/v1/submissions/${body.id}`)
    .set("Prefer", "wait=1")
    .then((answer) => answer);
  await api.records.erase(body.id, "tarnholm", asked);
  expect((await waiting).body.code).toBe("submission-erased");
});

it("gives no bytes, and takes no corrections, where the documents' time is over", async () => {
  const { body } = await submit();
  await api.records.finish(body.id, finishedReport("fail"));
  const kept = api.records.kept.get(body.id)!;
  kept.record = { ...kept.record, documentsErasedAt: new Date("2026-11-28T04:00:00Z") };
  const document = await request(api.app).get(body.documents[0].link);
  expect([document.status, document.body.code]).toEqual([410, "document-erased"]);
  const item = { document: body.documents[0].sha256, evidence: { line: 2, column: 2 }, quantity: "C", value: "0.021" };
  const corrected = await request(api.app)
    .post(`/v1/submissions/${body.id}/corrections`)
    .send({ corrections: 1, by: "M. Ostergaard", date: "2026-03-09", items: [item] });
  expect(corrected.body.code).toBe("document-erased");
  const shown = await request(api.app).get(`/v1/submissions/${body.id}`);
  expect(shown.body.documentsErasedAt).toBe("2026-11-28T04:00:00.000Z");
});
