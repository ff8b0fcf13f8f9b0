import { mkdir } from "node:fs/promises";
import { join, resolve } from "node:path";
import { PGlite } from "@electric-sql/pglite";
import pg from "pg";
import { type FolderLock, lockFolder } from "./folder-lock.js";
import { sharePglite } from "./pglite-connections.js";

/** A PostgreSQL database, however it is run. Everything above this file only knows `pg`. */
export interface Database {
  readonly kind: "embedded" | "server";
  readonly pool: pg.Pool;
  close(): Promise<void>;
}

export interface ServerOptions {
  readonly url: string;
  readonly password?: string;
  readonly ssl?: pg.PoolConfig["ssl"];
  readonly connections: number;
  /** A query without an answer for so long is given up, and its connection with it. Left out: it may take its time. */
  readonly queryMs?: number;
}

export function openServerDatabase(options: ServerOptions): Database {
  const pool = new pg.Pool({
    connectionString: options.url,
    max: options.connections,
    connectionTimeoutMillis: 10_000,
    keepAlive: true,
    keepAliveInitialDelayMillis: 10_000,
    // BullMQ's statements name no schema; ours always do.
    options: "-c search_path=bullmq",
    ...(options.password === undefined ? {} : { password: options.password }),
    ...(options.ssl === undefined ? {} : { ssl: options.ssl }),
    ...(options.queryMs === undefined ? {} : { query_timeout: options.queryMs }),
  });
  outliveLostConnections(pool);
  return { kind: "server", pool, close: () => pool.end() };
}

/** Opens, or makes, the PGlite database in a data folder that no other process may use meanwhile. */
export async function openEmbeddedDatabase(dataFolder: string): Promise<Database> {
  const folder = resolve(dataFolder);
  await mkdir(folder, { recursive: true });
  const lock = await lockFolder(folder);
  try {
    return await openPglite(join(folder, "records"), lock);
  } catch (error) {
    await lock.release();
    throw error;
  }
}

async function openPglite(folder: string, lock: FolderLock): Promise<Database> {
  const pglite = await PGlite.create({ dataDir: folder });
  // One session serves every client, so this holds for all of them.
  await pglite.exec("CREATE SCHEMA IF NOT EXISTS bullmq; SET search_path = bullmq");
  const shared = sharePglite(pglite);
  const pool = new pg.Pool({ user: "postgres", database: "postgres", stream: () => shared.connect(), max: 20 });
  outliveLostConnections(pool);
  return {
    kind: "embedded",
    pool,
    async close() {
      await pool.end();
      await pglite.close();
      await lock.release();
    },
  };
}

/**
 * A connection that breaks emits an error beside failing its query, and an error event without a listener ends the process.
 * The query's error is the one that matters; an idle connection's is mended by the pool.
 */
function outliveLostConnections(pool: pg.Pool): void {
  pool.on("error", () => {});
  pool.on("connect", (client) => client.on("error", () => {}));
}
