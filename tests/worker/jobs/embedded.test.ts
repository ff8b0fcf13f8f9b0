import { randomBytes } from "node:crypto";
import { Webhook } from "standardwebhooks";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { RunningWorker } from "../../../worker/start-worker.js";
import { openEmbedded } from "../../../worker/store/open-embedded.js";
import { EVERY_OWNER } from "../../../worker/store/records.js";
import type { Stores } from "../../../worker/store/stores.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { namingVerifier, newSubmission, sha256, storeDocument } from "../../support/invented.js";
import { startReceiver } from "../../support/receiver.js";
import { startTestWorker } from "../../support/running-worker.js";

let folder: Awaited<ReturnType<typeof embeddedFolder>>;
let stores: Stores;
let worker: RunningWorker;

beforeAll(async () => {
  folder = await embeddedFolder();
  stores = await openEmbedded(folder.path, "https://heatgate.example");
  worker = await startTestWorker(stores, namingVerifier());
});
afterAll(async () => {
  await worker.stop();
  await stores.close();
  await folder.remove();
});

test("a submission is judged, its report kept, and its receiver told by a signed event", async () => {
  const receiver = await startReceiver();
  const secret = `whsec_${randomBytes(32).toString("base64")}`;
  const document = await storeDocument(stores.documents, folder.path, "Heat;C\nH1;0,02\n");

  const accepted = await stores.records.createSubmission(
    newSubmission([document], { callback: { url: receiver.url, secret } }),
  );
  expect(accepted).toMatchObject({ state: "accepted", callbackUrl: receiver.url });
  const done = await stores.records.waitUntilFinal(accepted.id, 20_000);

  expect(done).toMatchObject({ state: "done", verdict: "undetermined" });
  const report = await stores.records.getReport(accepted.id, EVERY_OWNER);
  expect(report?.digest).toBe(sha256(report!.json));
  expect(JSON.parse(report!.json).documents[0]).toMatchObject({ name: "cert.csv", sha256: document.sha256 });

  const [received] = await receiver.waitFor(1);
  const event = new Webhook(secret).verify(received!.body, received!.headers as Record<string, string>);
  expect(event).toMatchObject({
    type: "submission.done",
    data: {
      submission: accepted.id,
      verdict: "undetermined",
      report: { url: `https://heatgate.example/v1/submissions/${accepted.id}/report`, sha256: report!.digest },
    },
  });
  await receiver.close();
});
