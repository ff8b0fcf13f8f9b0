import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { readSettings } from "../../../worker/config.js";
import { type Database, openServerDatabase } from "../../../worker/store/database.js";
import { MIGRATIONS, migrate } from "../../../worker/store/migrate.js";
import { openStores } from "../../../worker/store/open-stores.js";
import { checkPostgres, checkRedis, UnsafeSetup } from "../../../worker/store/self-check.js";
import { startPostgres, type TestPostgres } from "../../support/postgres.js";
import { startRedis, type TestRedis } from "../../support/redis.js";

let postgres: TestPostgres;
let redis: TestRedis;
let database: Database;

beforeAll(async () => {
  [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
  database = openServerDatabase({ url: postgres.url, connections: 4 });
});
afterAll(async () => {
  await database.close();
  await Promise.all([postgres.remove(), redis.remove()]);
});

const configure = async (name: string, value: string) => {
  const { Redis } = await import("ioredis");
  const client = new Redis(redis.url);
  await client.config("SET", name, value);
  client.disconnect();
};

test("a schema that is behind is refused, with the command that mends it", async () => {
  await expect(checkPostgres(database.pool)).rejects.toThrow(/schema version 0.*npm run migrate/);
  await migrate(database.pool, MIGRATIONS.length - 1);
  await expect(checkPostgres(database.pool)).rejects.toThrow(UnsafeSetup);
  await migrate(database.pool);
  await expect(checkPostgres(database.pool)).resolves.toHaveLength(1);
});

test("PostgreSQL that is not there is named, with what the system says", async () => {
  const nowhere = openServerDatabase({ url: "postgres://heatgate@127.0.0.1:1/heatgate", connections: 1 });
  await expect(checkPostgres(nowhere.pool)).rejects.toThrow(/^PostgreSQL cannot be used.*DATABASE_URL.*ECONNREFUSED/);
  await nowhere.close();
});

test("PostgreSQL that is too old is refused", async () => {
  // No older server can be had here, so the bar is raised above this one.
  await expect(checkPostgres(database.pool, 99)).rejects.toThrow(/PostgreSQL \d+ is too old; 99 or newer/);
});

test("PostgreSQL that does not wait for its disk is refused in production, and elsewhere said", async () => {
  const all = /with fsync and synchronous_commit and full_page_writes off/;
  expect(await checkPostgres(database.pool)).toEqual([expect.stringMatching(all)]);
  vi.stubEnv("NODE_ENV", "production");
  await expect(checkPostgres(database.pool)).rejects.toThrow(all);
  vi.unstubAllEnvs();
});

test("a database that alone answers before its disk is refused in production", async () => {
  const durable = await startPostgres({ durable: true });
  const own = openServerDatabase({ url: durable.url, connections: 4 });
  await migrate(own.pool);
  vi.stubEnv("NODE_ENV", "production");
  expect(await checkPostgres(own.pool)).toEqual([]);
  await own.pool.query("ALTER DATABASE postgres SET synchronous_commit = off");
  await own.close();
  const anew = openServerDatabase({ url: durable.url, connections: 4 });
  await expect(checkPostgres(anew.pool)).rejects.toThrow(/with synchronous_commit off/);
  vi.unstubAllEnvs();
  await anew.close();
  await durable.remove();
});

test("Redis that evicts keys is refused; without an append-only file it is allowed and said", async () => {
  await configure("maxmemory-policy", "allkeys-lru");
  await expect(checkRedis({ url: redis.url })).rejects.toThrow(/maxmemory-policy allkeys-lru/);
  await configure("maxmemory-policy", "noeviction");
  expect(await checkRedis({ url: redis.url })).toEqual([expect.stringContaining("append-only")]);
  await configure("appendonly", "yes");
  expect(await checkRedis({ url: redis.url })).toEqual([]);
});

test("the scaled profile opens by environment alone, and passes its own checks", async () => {
  const stores = await openStores(readSettings({ DATABASE_URL: postgres.url, REDIS_URL: redis.url }), {
    warn: () => {},
  });
  await Promise.all([stores.records.check(), stores.queue.check()]);
  await stores.close();
});
