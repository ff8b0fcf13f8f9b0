// A worker as `npm run worker` starts it, on the stores that the environment names; only the documents are strange. Each of
// them is a word that says what happens to the process that reads it. FAULTS_VERIFIER=real reads and judges for once, with little memory
// and time; SIGUSR2 moves the clock by what the file "clock" says.
import { readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { Registry } from "prom-client";
import { readSettings } from "../../worker/config.js";
import { createVerifier } from "../../worker/create-verifier.js";
import type { Verifier } from "../../worker/jobs/verify-documents.js";
import { createLog } from "../../worker/log.js";
import { createMetrics } from "../../worker/metrics.js";
import { startWorker } from "../../worker/start-worker.js";
import { openStores } from "../../worker/store/open-stores.js";
import { workerSettings } from "../../worker/worker-settings.js";
import { namingVerifier } from "../support/invented.js";
import { nameServiceFrom } from "./name-service.js";
import { isClockShifted, shiftClock } from "./shifted-clock.js";

nameServiceFrom(process.env.FAULTS_NAMES);
const settings = readSettings(process.env);
const log = createLog(settings.HEATGATE_LOG_LEVEL);
const stores = await openStores(settings, log);
const strangeVerifier = namingVerifier(async (path) => {
  const [word, number] = (await readFile(path, "utf8")).split(" ");
  if (word === "die") process.kill(process.pid, "SIGKILL");
  // As what fails outside: the queue tries again later, by whichever clock it counts.
  if (word === "later" && isClockShifted()) {
    console.log("put off");
    throw new Error("Not while the clock is wrong.");
  }
  // As judging a very long document would, and not reading it, which happens in a child.
  if (word === "busy") for (const until = performance.now() + Number(number); performance.now() < until; );
  if (word === "wait") await sleep(Number(number));
  return { ok: true, document: { reader: "csv", tables: [], doubts: [] } };
});
const verifier: Verifier & { close?(): Promise<void> } =
  process.env.FAULTS_VERIFIER === "real"
    ? await createVerifier({
        gradeFolders: settings.HEATGATE_GRADES,
        budgets: { wallMs: 20_000, heapMiB: 64, residentMiB: 400 },
      })
    : strangeVerifier;
const worker = await startWorker(
  { ...stores, verifier, log, metrics: createMetrics(new Registry()) },
  { ...workerSettings(settings), concurrency: 4 },
);
worker.onStuck(() => process.exit(1));
console.log("working");

if (process.env.FAULTS_HEAP) {
  setFlagsFromString("--expose_gc");
  const collect = runInNewContext("gc") as () => void;
  setInterval(() => {
    collect();
    console.log(`heap ${process.memoryUsage().heapUsed / 2 ** 20}`);
  }, 5_000).unref();
}
process.on("SIGUSR2", () => shiftClock(Number(readFileSync(join(settings.HEATGATE_DATA, "clock"), "utf8"))));
process.once("SIGTERM", async () => {
  await worker.stop();
  await verifier.close?.();
  await stores.close();
});
