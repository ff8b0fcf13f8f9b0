import { type Database, openServerDatabase } from "../../worker/store/database.js";
import { migrate } from "../../worker/store/migrate.js";
import { startPostgres } from "./postgres.js";
import { startRedis, type TestRedis } from "./redis.js";

export interface QueueServers {
  readonly database: Database;
  readonly databaseUrl: string;
  readonly redis: TestRedis;
  remove(): Promise<void>;
}

/** A server of each engine that a queue can be on, the database migrated. */
export async function startQueueServers(): Promise<QueueServers> {
  const [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
  const database = openServerDatabase({ url: postgres.url, connections: 20 });
  // BullMQ adds a listener for each of the queues that a test opens, and takes none away.
  database.pool.setMaxListeners(200);
  await migrate(database.pool);
  return {
    database,
    databaseUrl: postgres.url,
    redis,
    async remove() {
      await database.close();
      await Promise.all([postgres.remove(), redis.remove()]);
    },
  };
}
