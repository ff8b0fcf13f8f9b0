// A worker as `npm run worker` starts it, on the stores that the environment names; only the documents are strange. Each of
// them is a word that says what happens to the process that reads it.
import { readFile } from "node:fs/promises";
import { setTimeout as sleep } from "node:timers/promises";
import { Registry } from "prom-client";
import { readSettings } from "../../worker/config.js";
import { createLog } from "../../worker/log.js";
import { createMetrics } from "../../worker/metrics.js";
import { startWorker } from "../../worker/start-worker.js";
import { openStores } from "../../worker/store/open-stores.js";
import { workerSettings } from "../../worker/worker-settings.js";
import { namingVerifier } from "../support/invented.js";

const settings = readSettings(process.env);
const log = createLog(settings.HEATGATE_LOG_LEVEL);
const stores = await openStores(settings, log);
const verifier = namingVerifier(async (path) => {
  const [word, number] = (await readFile(path, "utf8")).split(" ");
  if (word === "die") process.kill(process.pid, "SIGKILL");
  if (word === "wait") await sleep(Number(number));
  return { ok: true, document: { reader: "csv", tables: [], doubts: [] } };
});
const worker = await startWorker(
  { ...stores, verifier, log, metrics: createMetrics(new Registry()) },
  { ...workerSettings(settings), concurrency: 4 },
);
console.log("working");

process.once("SIGTERM", async () => {
  await worker.stop();
  await stores.close();
});
