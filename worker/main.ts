import { profileOf, readSettings } from "./config.js";
import { createVerifier } from "./create-verifier.js";
import { endOnUncaught } from "./end-on-uncaught.js";
import { startHealthServer } from "./health-server.js";
import { startHeartbeat } from "./heartbeat/start-heartbeat.js";
import { warmUp } from "./jobs/warm-up.js";
import { createLog } from "./log.js";
import { withoutSecrets } from "./log-error.js";
import { createMetrics } from "./metrics.js";
import { createRegistry } from "./process-metrics.js";
import { readinessChecks, storeChecks } from "./readiness-checks.js";
import { type RunningWorker, startWorker } from "./start-worker.js";
import { openStores } from "./store/open-stores.js";
import { startTracing } from "./tracing/start-tracing.js";
import { watchStores } from "./watch-stores.js";
import { workerSettings } from "./worker-settings.js";

/** A worker on its own. In the embedded profile it runs inside the api process instead, which owns the data folder. */
async function main(): Promise<void> {
  const settings = readSettings(process.env);
  if (profileOf(settings) === "embedded") {
    throw new Error("A worker of its own needs DATABASE_URL. Without it, the api process does the work: npm start");
  }
  const log = createLog(settings.HEATGATE_LOG_LEVEL);
  endOnUncaught(log);
  const tracing = await startTracing(settings, "worker", log);
  const registry = createRegistry();
  let worker: RunningWorker | undefined;

  const stores = await openStores(settings, log);
  const verifier = await createVerifier({
    children: settings.HEATGATE_READERS,
    gradeFolders: settings.HEATGATE_GRADES,
  });
  const warm = warmUp(verifier);
  const health = await startHealthServer(
    { registry, started: () => worker !== undefined, ready: readinessChecks(stores, settings) },
    settings.HEATGATE_WORKER_HOST,
    settings.HEATGATE_WORKER_PORT,
  );
  const deps = { ...stores, verifier, log, metrics: createMetrics(registry) };
  worker = await startWorker(deps, workerSettings(settings));
  worker.onStuck((queue, waiting) => {
    log.fatal(
      { queue, waiting },
      "idle while jobs wait: the connections to the queue are dead; ends, to be started anew",
    );
    process.exit(1);
  });
  const watched = watchStores(storeChecks(stores), log, registry);
  const heartbeat = startHeartbeat(deps, settings.HEATGATE_HEARTBEAT_SECONDS * 1_000);
  log.info(
    { profile: profileOf(settings), port: health.port, grades: verifier.library.grades.length },
    "worker started",
  );

  const stop = async (signal: string) => {
    log.info({ signal }, "worker stops");
    watched.stop();
    await heartbeat.stop();
    await worker?.stop();
    await verifier.close();
    await warm;
    await stores.close();
    await health.close();
    await tracing.stop();
    log.info("worker stopped");
  };
  for (const signal of ["SIGTERM", "SIGINT"] as const) process.once(signal, () => void stop(signal));
}

await main().catch((error: Error) => {
  console.error(withoutSecrets(error.message));
  process.exit(1);
});
