import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import request from "supertest";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { RunningWorker } from "../../worker/start-worker.js";
import { loadLibrary } from "../../worker/store/grade-files.js";
import { openEmbedded } from "../../worker/store/open-embedded.js";
import { openTrials } from "../../worker/store/sql-trials.js";
import type { Stores } from "../../worker/store/stores.js";
import { embeddedFolder } from "../support/embedded-folder.js";
import { startTestWorker } from "../support/running-worker.js";
import { spokenVerifier } from "../support/spoken-certificate.js";
import { type TestApi, testApi } from "../support/test-api.js";

let folder: Awaited<ReturnType<typeof embeddedFolder>>;
let stores: Stores;
let worker: RunningWorker;
let api: TestApi;
let submission: string;

beforeAll(async () => {
  folder = await embeddedFolder();
  stores = await openEmbedded(folder.path, "http://heatgate.example");
  worker = await startTestWorker(stores, { ...spokenVerifier(), library: await loadLibrary([]) });
  const uploadFolder = join(folder.path, "uploads");
  await mkdir(uploadFolder);
  const { records, documents } = stores;
  api = testApi({ records, documents, uploadFolder, trials: openTrials(stores.pool, stores.queue) });
  const limits = [{ quantity: "C", max: "0.030", unit: "%" }];
  const { body } = await request(api.app)
    .post("/v1/submissions")
    .set("Prefer", "wait=20")
    .attach("document", Buffer.from("N2001 0.021 Norrvik\nN2002 0.034 Norrvik"), "a.txt")
    .field("requirement", JSON.stringify({ requirement: 1, name: "T-204", limits }));
  submission = body.id;
});
afterAll(async () => {
  await worker.stop();
  await stores.close();
  api.remove();
  await folder.remove();
});

const tryOut = (body: object) => request(api.app).post(`/v1/submissions/${submission}/dry-runs`).send(body);
const harder = { requirement: 1, name: "T-205", limits: [{ quantity: "C", max: "0.020", unit: "%" }] };

it("a dry run says what would change, and changes nothing", async () => {
  const before = await request(api.app).get(`/v1/submissions/${submission}/report`);
  const events = await request(api.app).get("/v1/events");
  const tried = await tryOut({ requirement: harder });
  expect(tried.status).toBe(200);
  expect(tried.body.result).toMatchObject({
    requirement: { before: { name: "T-204" }, after: { name: "T-205" } },
    verdict: { before: "fail", after: "fail" },
    heats: [
      {
        heat: "N2001",
        verdict: { before: "pass", after: "fail" },
        findings: [{ before: { outcome: "pass" }, after: { outcome: "fail", limit: { max: "0.020" } } }],
      },
      { heat: "N2002", verdict: { before: "fail", after: "fail" } },
    ],
    changedGrades: [],
  });
  expect((await request(api.app).get(tried.body.links.self)).body).toEqual(tried.body);

  expect((await request(api.app).get(`/v1/submissions/${submission}/report`)).text).toBe(before.text);
  expect((await request(api.app).get("/v1/events")).body).toEqual(events.body);
  const { rows } = await stores.pool.query("SELECT count(*)::integer AS heats FROM heatgate.heat");
  expect(rows[0].heats).toBe(2);
});

it("a dry run takes a stored requirement by name, and one heat of several", async () => {
  await request(api.app).put("/v1/requirements/t-205").send(harder);
  const tried = await tryOut({ requirement: "t-205@1", heat: "N2001" });
  expect(tried.body.result.heats.map(({ heat }: { heat: string }) => heat)).toEqual(["N2001"]);
  expect((await tryOut({ requirement: "t-206" })).body.code).toBe("requirement-unknown");
  expect((await tryOut({ requirement: harder, heat: "N9" })).body.code).toBe("heat-unknown");
});

it("a dry run refuses what it cannot try, with the place", async () => {
  expect((await tryOut({})).body).toMatchObject({ code: "dry-run-invalid", errors: [{ pointer: "/requirement" }] });
  const wrong = { ...harder, limits: [{ quantity: "C", max: "0.020", unit: "stone" }] };
  expect((await tryOut({ requirement: wrong })).body).toMatchObject({
    code: "requirement-invalid",
    errors: [{ pointer: "/limits/0/unit" }],
  });
});

it("grades are told by heat, worked out once, and a grade that needs more than carbon is left open", async () => {
  const grades = await request(api.app).get(`/v1/submissions/${submission}/grades`).set("Prefer", "wait=20");
  expect(grades.status).toBe(200);
  expect(grades.body.items.map(({ heat }: { heat: string }) => heat)).toEqual(["N2001", "N2002"]);
  const [first, second] = grades.body.items.map(({ grades }: { grades: { id: string; outcome: string }[] }) =>
    grades.find(({ id }) => id === "astm-a240/2007e1/s30403"),
  );
  expect(first).toMatchObject({ outcome: "undetermined", met: 1, missed: 0 });
  expect(second).toBeUndefined(); // 0.034 % is above its 0.030 %, and nothing else is reported.
  await request(api.app).get(`/v1/submissions/${submission}/grades`);
  const { rows } = await stores.pool.query(
    "SELECT count(*)::integer AS trials FROM heatgate.trial WHERE kind = 'grades'",
  );
  expect(rows[0].trials).toBe(1);
});

it("grades are a page for people, what is missed folded away", async () => {
  const page = await request(api.app).get(`/v1/submissions/${submission}/grades`).set("Accept", "text/html");
  expect(page.headers["content-type"]).toContain("text/html");
  expect(page.headers["content-security-policy"]).toContain("default-src 'none'");
  expect(page.text).toContain("<h2>Heat N2001</h2>");
  expect(page.text).toMatch(/Grades that heat N2001 meets or may meet[\s\S]*S30403 \(304L\)[\s\S]*Undetermined/);
  expect(page.text).toMatch(/Manganese is not reported[^<]*<br>[^<]*<br>[^<]*<br>and \d+ more/);
  const other = await request(api.app).get(`/v1/submissions/${submission}/grades`).set("Accept", "image/png");
  expect(other.body.code).toBe("not-acceptable");
});

it("what was read before this was kept cannot be tried, and says so", async () => {
  await stores.pool.query("UPDATE heatgate.report SET evidence = NULL");
  const tried = await tryOut({ requirement: harder });
  expect(tried.body).toMatchObject({ code: "trial-failed", detail: expect.stringContaining("Hand them in again") });
});

it("a trial whose job was lost is brought back by the sweep", async () => {
  const trials = openTrials(stores.pool, { ...stores.queue, addWithin: async () => {}, addAfter: async () => {} });
  const lost = await trials.create({ kind: "dry-run", submission, requirement: harder as never });
  const sweeper = await startTestWorker(stores, spokenVerifier(), { quietMs: 0 });
  expect((await trials.waitUntilFinal(lost, 20_000)).state).toBe("failed");
  await sweeper.stop();
});
