import { join } from "node:path";
import type { Logger } from "pino";
import { profileOf, readSecretFile, type Settings } from "../config.js";
import { openPostgresQueue } from "../queue/postgres-queue.js";
import { enterPresence, type Presence } from "../queue/presence.js";
import type { WorkQueue } from "../queue/queue.js";
import type { HostPort, RedisAddress } from "../queue/redis-connection.js";
import { openRedisQueue } from "../queue/redis-queue.js";
import { type Database, openServerDatabase } from "./database.js";
import { openDocumentsFolder } from "./documents-folder.js";
import { openEmbedded } from "./open-embedded.js";
import type { DocumentStore } from "./records.js";
import { checkPostgres, checkRedis } from "./self-check.js";
import { openSecrets } from "./signing/open-secrets.js";
import { openRecords } from "./sql-records.js";
import type { Stores } from "./stores.js";

/** Opens what the settings ask for, and refuses what would not keep its promises. */
export async function openStores(settings: Settings, log: Pick<Logger, "warn">): Promise<Stores> {
  const publicUrl = settings.HEATGATE_PUBLIC_URL.replace(/\/$/, "");
  if (profileOf(settings) === "embedded") {
    return openEmbedded(settings.HEATGATE_DATA, publicUrl, settings.HEATGATE_SEALING_KEY_FILE);
  }

  const database = openSettingsDatabase(settings, QUERY_MS);
  const { pool } = database;
  let queue: WorkQueue | undefined;
  try {
    for (const warning of await checkPostgres(pool)) log.warn(warning);
    const secrets = await openSecrets(pool, {
      dataFolder: settings.HEATGATE_DATA,
      sealingKeyFile: settings.HEATGATE_SEALING_KEY_FILE,
    });
    const present = () => enterPresence(pool);
    queue =
      profileOf(settings) === "scaled"
        ? await openCheckedRedis(settings, log, present)
        : openPostgresQueue(pool, present);
    const records = openRecords(pool, queue, publicUrl, secrets);
    const documents = await openDocuments(settings);
    return {
      pool,
      records,
      documents,
      queue,
      sealer: secrets.sealer,
      async close() {
        await records.close();
        await queue?.close();
        await database.close();
      },
    };
  } catch (error) {
    await queue?.close();
    await database.close();
    throw error;
  }
}

/**
 * No query of ours takes seconds. A connection whose other end vanished without a word, as firewalls and failovers have it, would be waited
 * for until the system gives it up, after a quarter of an hour.
 */
const QUERY_MS = 30_000;

export function openSettingsDatabase(settings: Settings, queryMs?: number): Database {
  const password = readSecretFile(settings.DATABASE_PASSWORD_FILE);
  const ca = readSecretFile(settings.DATABASE_CA_FILE);
  return openServerDatabase({
    url: settings.DATABASE_URL!,
    connections: settings.DATABASE_CONNECTIONS,
    ...(queryMs !== undefined && { queryMs }),
    ...(password !== undefined && { password }),
    ...(ca !== undefined && { ssl: { ca } }),
  });
}

async function openCheckedRedis(
  settings: Settings,
  log: Pick<Logger, "warn">,
  present: () => Presence,
): Promise<WorkQueue> {
  const password = readSecretFile(settings.REDIS_PASSWORD_FILE);
  const certificateAuthority = readSecretFile(settings.REDIS_CA_FILE);
  const address: RedisAddress = {
    sentinels: settings.REDIS_SENTINELS.map(readHostPort),
    sentinelName: settings.REDIS_SENTINEL_NAME,
    clusterNodes: settings.REDIS_CLUSTER.map(readHostPort),
    ...(settings.REDIS_URL !== undefined && { url: settings.REDIS_URL }),
    ...(password !== undefined && { password }),
    ...(certificateAuthority !== undefined && { certificateAuthority }),
  };
  for (const warning of await checkRedis(address)) log.warn(warning);
  return await openRedisQueue(address, present);
}

function readHostPort(text: string): HostPort {
  const [host = "", port = ""] = text.split(/:(?=\d+$)/);
  return { host, port: Number(port || 6379) };
}

async function openDocuments(settings: Settings): Promise<DocumentStore> {
  if (!settings.S3_BUCKET) return openDocumentsFolder(join(settings.HEATGATE_DATA, "documents"));
  const secretAccessKey = readSecretFile(settings.S3_SECRET_ACCESS_KEY_FILE);
  const accessKeyId = settings.S3_ACCESS_KEY_ID;
  // The client is large, and only this profile needs it.
  const { openDocumentsBucket } = await import("./documents-s3.js");
  return openDocumentsBucket({
    bucket: settings.S3_BUCKET,
    prefix: settings.S3_PREFIX,
    region: settings.S3_REGION,
    ...(settings.S3_ENDPOINT !== undefined && { endpoint: settings.S3_ENDPOINT }),
    ...(accessKeyId && secretAccessKey && { credentials: { accessKeyId, secretAccessKey } }),
  });
}
