#!/usr/bin/env node
import { createHash } from "node:crypto";
import { mkdir, realpath, rm } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Logger } from "pino";
import type { Registry } from "prom-client";
import { profileOf, readSettings, type Settings } from "../worker/config.js";
import { createVerifier } from "../worker/create-verifier.js";
import { endOnUncaught } from "../worker/end-on-uncaught.js";
import { startHealthServer } from "../worker/health-server.js";
import { startHeartbeat } from "../worker/heartbeat/start-heartbeat.js";
import { removeBytes } from "../worker/jobs/remove-bytes.js";
import { warmUp } from "../worker/jobs/warm-up.js";
import { createLog } from "../worker/log.js";
import { withoutSecrets } from "../worker/log-error.js";
import { createMetrics } from "../worker/metrics.js";
import { createRegistry } from "../worker/process-metrics.js";
import { readinessChecks, storeChecks } from "../worker/readiness-checks.js";
import { startWorker } from "../worker/start-worker.js";
import { loadLibrary } from "../worker/store/grade-files.js";
import { type Keys, SCOPES } from "../worker/store/keys.js";
import { openStores } from "../worker/store/open-stores.js";
import type { Stores } from "../worker/store/stores.js";
import { startTracing, type Tracing } from "../worker/tracing/start-tracing.js";
import { watchStores } from "../worker/watch-stores.js";
import { receiverUrlProblem } from "../worker/webhooks/receiver-url.js";
import { receiverPolicy, workerSettings } from "../worker/worker-settings.js";
import { createApp } from "./app.js";
import { type ApiConfig, readApiConfig } from "./config.js";
import { FACES } from "./faces.js";
import { type RunningServer, startServer } from "./server.js";
import { storeDeps } from "./store-deps.js";

export interface RunningService {
  readonly url: string;
  /** Where there is a metrics port. */
  readonly metricsUrl?: string;
  /** Made at the first start, when there is no key yet, and told only now. */
  readonly firstKey: string | undefined;
  stop(): Promise<void>;
}

const REQUESTS_GRACE_MS = 10_000;

/** The HTTP front; in the embedded profile the worker runs beside it, for only one process may open the data folder. */
export async function startService(environment: Readonly<Record<string, string | undefined>>): Promise<RunningService> {
  const config = readApiConfig(environment);
  const settings = readSettings(environment);
  const log = createLog(settings.HEATGATE_LOG_LEVEL);
  const tracing = await startTracing(settings, "api", log);
  const server = await startServer(config.host, config.port);
  try {
    // Where nothing else is said, receivers and browsers reach the service where it listens.
    const publicUrl = environment.HEATGATE_PUBLIC_URL || server.url;
    return await startBehind(server, config, { ...settings, HEATGATE_PUBLIC_URL: publicUrl }, log, tracing);
  } catch (error) {
    await server.stop(0);
    await tracing.stop();
    throw error;
  }
}

async function startBehind(
  server: RunningServer,
  config: ApiConfig,
  settings: Settings,
  log: Logger,
  tracing: Tracing,
): Promise<RunningService> {
  const registry = createRegistry();
  const stores = await openStores(settings, log);
  const { records, documents } = stores;
  const isEmbedded = profileOf(settings) === "embedded";
  const worker = isEmbedded ? await startOwnWorker(stores, settings, log, registry) : undefined;
  const library = worker?.library ?? (await loadLibrary(settings.HEATGATE_GRADES));
  const own = storeDeps(stores);
  const firstKey = await makeFirstKey(own.keys);
  server.serve(
    createApp({
      ...own,
      eraseBytes: async (sha256s) => void (await removeBytes({ ...stores, log }, sha256s)),
      library,
      libraryDigest: createHash("sha256").update(JSON.stringify(library)).digest("hex"),
      publicUrl: settings.HEATGATE_PUBLIC_URL,
      logger: log,
      registry,
      uploadFolder: await ownUploadFolder(settings),
      limits: config.limits,
      rates: config.rates,
      backlog: config.backlog,
      callbackProblem: (url) => receiverUrlProblem(url, receiverPolicy(settings)),
      faces: FACES,
    }),
  );
  const used = isEmbedded
    ? storeChecks(stores)
    : { records: () => records.check(), documents: () => documents.check() };
  const ready = isEmbedded ? readinessChecks(stores, settings) : used;
  const watched = watchStores(used, log, registry);
  const health =
    config.metrics &&
    (await startHealthServer({ registry, ready, started: () => true }, config.metrics.host, config.metrics.port));
  log.info({ url: server.url, profile: profileOf(settings), metricsPort: health?.port }, "serving");

  return {
    url: server.url,
    ...(health && { metricsUrl: `http://${config.metrics?.host}:${health.port}/metrics` }),
    firstKey,
    async stop() {
      watched.stop();
      await health?.close();
      await server.stop(REQUESTS_GRACE_MS);
      await worker?.stop();
      await stores.close();
      await tracing.stop();
      log.info("stopped");
    },
  };
}

async function startOwnWorker(stores: Stores, settings: Settings, log: Logger, registry: Registry) {
  const verifier = await createVerifier({
    children: settings.HEATGATE_READERS,
    gradeFolders: settings.HEATGATE_GRADES,
  });
  const warm = warmUp(verifier);
  const deps = { ...stores, verifier, log, metrics: createMetrics(registry) };
  const worker = await startWorker(deps, workerSettings(settings));
  const heartbeat = startHeartbeat(deps, settings.HEATGATE_HEARTBEAT_SECONDS * 1_000);
  return {
    library: verifier.library,
    async stop() {
      await heartbeat.stop();
      await worker.stop();
      await verifier.close();
      await warm;
    },
  };
}

/**
 * A folder for uploads in progress, on the documents' disk. What lies in the embedded profile's was being uploaded when an
 * earlier process died: its senders never heard that it was accepted. Other profiles may share the disk between processes.
 */
async function ownUploadFolder(settings: Settings): Promise<string> {
  const uploads = join(settings.HEATGATE_DATA, "uploads");
  if (profileOf(settings) === "embedded") await rm(uploads, { recursive: true, force: true });
  await mkdir(uploads, { recursive: true, mode: 0o700 });
  return uploads;
}

/** Without any key nobody could make one, so the first start makes one that may do everything. */
async function makeFirstKey(keys: Keys): Promise<string | undefined> {
  if ((await keys.list()).length > 0) return undefined;
  return (await keys.create({ client: "default", name: "first key", scopes: SCOPES }, "heatgate")).key;
}

async function main(): Promise<void> {
  // The first start makes a database and may take a while; silence would look like a fault.
  process.stderr.write("Heatgate is starting.\n");
  endOnUncaught(createLog("fatal"));
  const service = await startService(process.env);
  if (service.firstKey !== undefined) {
    process.stderr.write(`\nAPI key, shown only this once: ${service.firstKey}\n\n`);
  }
  process.stderr.write(`Heatgate serves at ${service.url}, and describes itself at ${service.url}/v1/openapi.json\n`);
  const stop = () => {
    void service.stop().then(() => process.exit(0), exitWith);
  };
  process.once("SIGTERM", stop).once("SIGINT", stop);
}

function exitWith(error: unknown): never {
  process.stderr.write(`heatgate: ${withoutSecrets(error instanceof Error ? error.message : String(error))}\n`);
  process.exit(1);
}

// The demo starts the service from here as well; only as the process's own file does it serve by itself.
const isEntry = process.argv[1] !== undefined && (await realpath(process.argv[1])) === fileURLToPath(import.meta.url);
if (isEntry) await main().catch(exitWith);
