import type { Cluster, Redis } from "ioredis";
import type pg from "pg";
import { connectRedis, type RedisAddress } from "../queue/redis-connection.js";
import { MIGRATIONS, schemaVersion } from "./migrate.js";

/** The service must not run on this; the sentence says what to change. */
export class UnsafeSetup extends Error {
  override readonly name = "UnsafeSetup";
}

const OLDEST_POSTGRES = 14;
const OLDEST_REDIS = 7;

/** What, switched off, lets PostgreSQL say that something is kept which a power cut can still take. */
const LASTING = ["fsync", "synchronous_commit", "full_page_writes"];

/** In the image there is only what was built. */
const MIGRATE = "npm run migrate (in the image: node dist/worker/migrate-main.js)";

/** The server's version as a number, such as 170002; throws a sentence that says whose fault it is where there is no server to ask. */
export async function reachPostgres(pool: pg.Pool): Promise<number> {
  try {
    const { rows } = await pool.query("SELECT current_setting('server_version_num')::integer AS version");
    return rows[0].version;
  } catch (error) {
    throw new UnsafeSetup(`PostgreSQL cannot be used where DATABASE_URL says it is: ${(error as Error).message}`, {
      cause: error,
    });
  }
}

/** Returns what is allowed but worth a warning. */
export async function checkPostgres(pool: pg.Pool, oldest = OLDEST_POSTGRES): Promise<readonly string[]> {
  const major = Math.floor((await reachPostgres(pool)) / 10_000);
  if (major < oldest) {
    throw new UnsafeSetup(`PostgreSQL ${major} is too old; ${oldest} or newer is needed.`);
  }
  const found = await schemaVersion(pool);
  if (found < MIGRATIONS.length) {
    throw new UnsafeSetup(
      `The database has schema version ${found}, this program needs ${MIGRATIONS.length}. Run: ${MIGRATE}`,
    );
  }
  const { rows: off } = await pool.query<{ name: string }>(
    "SELECT name FROM unnest($1::text[]) AS name WHERE current_setting(name) = 'off'",
    [LASTING],
  );
  if (off.length === 0) return [];
  const names = off.map(({ name }) => name).join(" and ");
  const danger = `PostgreSQL runs with ${names} off, and would lose accepted submissions in a power cut. Turn it on.`;
  if (process.env.NODE_ENV === "production") throw new UnsafeSetup(danger);
  return [danger];
}

/** Returns what is allowed but worth a warning. */
export async function checkRedis(address: RedisAddress): Promise<readonly string[]> {
  const redis = connectRedis(address, { maxRetriesPerRequest: null });
  redis.on("error", () => {});
  try {
    const version = /redis_version:(\d+)/.exec(await answerOf(redis.info("server")))?.[1];
    if (version !== undefined && Number(version) < OLDEST_REDIS) {
      throw new UnsafeSetup(`Redis ${version} is too old; ${OLDEST_REDIS} or newer is needed.`);
    }
    return await checkRedisSettings(redis);
  } finally {
    redis.disconnect();
  }
}

async function checkRedisSettings(redis: Redis | Cluster): Promise<readonly string[]> {
  const policy = await readSetting(redis, "maxmemory-policy");
  if (policy === undefined) return ["Redis does not tell its settings; make sure that maxmemory-policy is noeviction."];
  if (policy !== "noeviction") {
    throw new UnsafeSetup(
      `Redis evicts keys (maxmemory-policy ${policy}) and would silently drop jobs. ` +
        "Run: redis-cli CONFIG SET maxmemory-policy noeviction",
    );
  }
  if ((await readSetting(redis, "appendonly")) === "yes") return [];
  return [
    "Redis keeps no append-only file: after a crash the sweep has to bring back every waiting job. Set appendonly yes.",
  ];
}

/** A start must end, in a service or in a sentence. */
async function answerOf<Answer>(answer: Promise<Answer>): Promise<Answer> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(
      () =>
        reject(
          new UnsafeSetup(
            "Redis did not answer within 15 seconds. Is its address right (REDIS_URL, REDIS_SENTINELS or REDIS_CLUSTER)?",
          ),
        ),
      15_000,
    );
  });
  return Promise.race([answer, late]).finally(() => clearTimeout(timer));
}

/** Hosted Redis often forbids CONFIG. */
async function readSetting(redis: Redis | Cluster, name: string): Promise<string | undefined> {
  const answer = (await redis.call("CONFIG", "GET", name).catch(() => [])) as string[];
  return answer[1];
}
