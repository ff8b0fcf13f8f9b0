import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { readSettings } from "../../worker/config.js";
import { migrate } from "../../worker/store/migrate.js";
import { openSettingsDatabase, openStores } from "../../worker/store/open-stores.js";
import type { NewSubmission } from "../../worker/store/records.js";
import type { Stores } from "../../worker/store/stores.js";
import { type Child, startChild } from "../support/child.js";
import { newSubmission, storeDocument, temporaryFolder } from "../support/invented.js";
import { startPostgres, type TestPostgres } from "../support/postgres.js";
import { startReceiver } from "../support/receiver.js";
import { startRedis, type TestRedis } from "../support/redis.js";
import { mountDisk } from "./disk.js";
import { checkHistory } from "./history.js";

export type World = Awaited<ReturnType<typeof buildWorld>>;

export interface WorldOptions {
  /** Redis with these settings as the queue. */
  readonly redis?: readonly string[];
  /** PostgreSQL with a clock of its own. */
  readonly clock?: boolean;
  /** The data folder on a disk of its own, of this size. */
  readonly disk?: string;
}

/** Real servers, real worker processes, a receiver, and the part of the api that accepts submissions. */
export async function buildWorld(options: WorldOptions = {}) {
  const postgres: TestPostgres = await startPostgres({ durable: true, clock: options.clock === true });
  const redis: TestRedis | undefined = options.redis && (await startRedis(...options.redis));
  const folder = await temporaryFolder();
  const unmount = options.disk === undefined ? undefined : mountDisk(folder.path, options.disk);
  const receiver = await startReceiver();
  const environment = {
    HEATGATE_DATA: folder.path,
    DATABASE_URL: postgres.url,
    HEATGATE_WEBHOOK_ALLOW: "loopback",
    HEATGATE_LOG_LEVEL: process.env.FAULTS_LOG ?? "fatal",
    ...(redis && { REDIS_URL: redis.url }),
  };
  const settings = readSettings(environment);
  const database = openSettingsDatabase(settings);
  await migrate(database.pool);
  await database.close();
  const stores: Stores = await openStores(settings, { warn: () => {} });
  const workers = new Set<Child>();
  const accepted: string[] = [];
  let refused = 0;

  return {
    postgres,
    redis,
    receiver,
    environment,
    stores,
    accepted,
    refused: () => refused,

    /** `more`: settings of this worker alone. */
    async startWorker(more: Readonly<Record<string, string>> = {}): Promise<Child> {
      const child = startChild("../faults/worker-process.ts", [], { ...environment, ...more });
      workers.add(child);
      await child.until((lines) => lines.includes("working"));
      return child;
    },

    /** Sets the worker's clock to so far from the true one. */
    async shiftClock(worker: Child, ms: number): Promise<void> {
      await writeFile(join(folder.path, "clock"), String(ms));
      worker.process.kill("SIGUSR2");
    },

    /** Hands one in as the api would: what throws was never accepted, and its sender knows. */
    async submit(document: string, url = receiver.url, more: Partial<NewSubmission> = {}): Promise<string | undefined> {
      try {
        const kept = await storeDocument(stores.documents, folder.path, document);
        const callback = { url, secret: "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw" };
        const { id } = await stores.records.createSubmission(newSubmission([kept], { callback, ...more }));
        accepted.push(id);
        return id;
      } catch {
        refused++;
        return undefined;
      }
    },

    /** Milliseconds until everything accepted is final and its receiver has heard of it. */
    async settle(withinMs: number): Promise<number> {
      const started = performance.now();
      for (;;) {
        const left = await stores.records.countBacklog().catch(() => undefined);
        if (left && left.accepted + left.working + left.deliveriesPending === 0) return performance.now() - started;
        if (performance.now() - started > withinMs) return Number.POSITIVE_INFINITY;
        await new Promise((resolve) => setTimeout(resolve, 50));
      }
    },

    /** Milliseconds until something handed in from now on is final. */
    async settleOne(withinMs: number): Promise<number> {
      const started = performance.now();
      while (performance.now() - started < withinMs) {
        const id = await this.submit(`wait 0 ${performance.now()}`);
        const submission =
          id === undefined ? undefined : await stores.records.waitUntilFinal(id, withinMs).catch(() => undefined);
        if (submission?.finishedAt) return performance.now() - started;
        await new Promise((resolve) => setTimeout(resolve, 100));
      }
      return Number.POSITIVE_INFINITY;
    },

    check: (elsewhere: readonly Parameters<typeof checkHistory>[2][number][] = []) =>
      checkHistory(stores.records, accepted, [...receiver.received, ...elsewhere]),

    async end(): Promise<void> {
      for (const worker of workers) await worker.kill("SIGKILL");
      await stores.close();
      await receiver.close();
      await redis?.remove();
      await postgres.remove();
      unmount?.();
      await folder.remove();
    },
  };
}
