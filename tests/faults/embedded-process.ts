// The embedded profile in a process that is killed at any moment: it hands documents in as fast as it can, and says the id
// of each that was acknowledged.
import { Registry } from "prom-client";
import { createLog } from "../../worker/log.js";
import { createMetrics } from "../../worker/metrics.js";
import { startWorker } from "../../worker/start-worker.js";
import { openEmbedded } from "../../worker/store/open-embedded.js";
import { STRICT_POLICY } from "../../worker/webhooks/address-guard.js";
import { namingVerifier, newSubmission, storeDocument } from "../support/invented.js";
import { KEEP_ALL } from "../support/running-worker.js";

const folder = process.argv[2]!;
const stores = await openEmbedded(folder, "https://heatgate.example");
await startWorker(
  { ...stores, verifier: namingVerifier(), log: createLog("fatal"), metrics: createMetrics(new Registry()) },
  {
    concurrency: 2,
    disableEndpointAfterMs: 432_000_000,
    receivers: STRICT_POLICY,
    stopMs: 5_000,
    sweepMs: 30_000,
    retention: KEEP_ALL,
    retentionMs: 60_000,
  },
);
console.log("working");
for (let number = 0; ; number++) {
  const document = await storeDocument(stores.documents, folder, `${process.pid} ${number}`);
  const { id } = await stores.records.createSubmission(newSubmission([document]));
  console.log(id);
}
