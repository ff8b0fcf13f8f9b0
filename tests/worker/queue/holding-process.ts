// Takes one job of the queue that the arguments name and never ends it. Says who it is to the queue, and what it began.

import { openPostgresQueue } from "../../../worker/queue/postgres-queue.js";
import { enterPresence } from "../../../worker/queue/presence.js";
import { openRedisQueue } from "../../../worker/queue/redis-queue.js";
import { openServerDatabase } from "../../../worker/store/database.js";

const [databaseUrl = "", redisUrl] = process.argv.slice(2);
const { pool } = openServerDatabase({ url: databaseUrl, connections: 5 });
const present = process.env.WITHOUT_PRESENCE ? undefined : () => enterPresence(pool);
const queue = redisUrl ? await openRedisQueue({ url: redisUrl }, present) : openPostgresQueue(pool, present);
queue.work("judge", 1, async (subject) => {
  console.log(`began ${subject}`);
  return await new Promise<never>(() => {});
});
