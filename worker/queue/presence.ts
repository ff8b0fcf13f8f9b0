import { randomInt } from "node:crypto";
import { setTimeout as sleep } from "node:timers/promises";
import pg from "pg";

/** The jobs of one queue, by who holds them. */
export interface HeldJobs {
  /** Who has jobs in hands, each named as it named itself to the queue. */
  listHolders(): Promise<readonly string[]>;
  /** Gives the jobs of one that is dead back to the queue at once, instead of when their locks run out. */
  takeFrom(holder: string): Promise<void>;
}

/**
 * That this process lives, known to all others by its connection to the database: PostgreSQL keeps an advisory lock for as long as that
 * lasts, and a process that is killed loses it within milliseconds. Without it the others wait until its locks on jobs have run out,
 * which must be long enough for one that is only busy.
 *
 * A machine that falls off the network leaves its connection behind, and a process that is busy or frozen keeps it: for those the locks on
 * jobs decide as before. So does it for workers of earlier versions, whose names do not begin with ours.
 */
export interface Presence {
  /** The name to hold jobs by. */
  readonly holder: string;
  /** Resolves when the others can see that this process lives; nothing may be held before. */
  readonly entered: Promise<void>;
  /** From now on takes over what dead holders have of this queue. */
  watch(jobs: HeldJobs): { stop(): void };
  leave(): Promise<void>;
}

export interface PresenceLimits {
  readonly lookMs: number;
  /** So long may a holder be missing: its connection may have been cut while it lives, or the database have been started anew. */
  readonly graceMs: number;
}

export const PRESENCE_LIMITS: PresenceLimits = { lookMs: 500, graceMs: 3_000 };

const PRESENCE_LOCK = 20_260_129;
const HOLDER = /^alive-(\d+)$/;
const ANSWER_MS = 5_000;

export function enterPresence(pool: pg.Pool, limits: PresenceLimits = PRESENCE_LIMITS): Presence {
  const number = randomInt(2 ** 31 - 1);
  const watched = new Set<HeldJobs>();
  const missingSince = new Map<string, number>();
  const leaving = new AbortController();
  let connection: pg.Client | undefined;
  let tellEntered = () => {};
  const entered = new Promise<void>((resolve) => {
    tellEntered = resolve;
  });
  const looking = lookAgainAndAgain();
  return {
    holder: `alive-${number}`,
    entered,
    watch(jobs) {
      watched.add(jobs);
      return { stop: () => void watched.delete(jobs) };
    },
    async leave() {
      leaving.abort();
      await looking;
    },
  };

  async function lookAgainAndAgain(): Promise<void> {
    const { signal } = leaving;
    while (!signal.aborted) {
      const present = await seePresent().catch(disconnect);
      try {
        if (present) await takeOverFromMissing(present);
        else missingSince.clear();
      } catch {
        // Whoever cannot see does not judge: what was missing may be there by the time that we can.
        missingSince.clear();
      }
      await sleep(limits.lookMs, undefined, { signal }).catch(() => {});
    }
    disconnect();
  }

  async function seePresent(): Promise<ReadonlySet<number>> {
    connection ??= await connect();
    const present = await listPresent(connection);
    if (!present.has(number)) throw new Error("A pooler between gave the connection to somebody else.");
    tellEntered();
    return present;
  }

  async function takeOverFromMissing(present: ReadonlySet<number>): Promise<void> {
    const missing = new Map<string, HeldJobs[]>();
    for (const jobs of watched) {
      for (const holder of await jobs.listHolders()) {
        const [, named] = HOLDER.exec(holder) ?? [];
        if (named !== undefined && !present.has(Number(named)))
          missing.set(holder, [...(missing.get(holder) ?? []), jobs]);
      }
    }
    for (const known of missingSince.keys()) if (!missing.has(known)) missingSince.delete(known);
    for (const [holder, queues] of missing) {
      const since = missingSince.get(holder) ?? performance.now();
      missingSince.set(holder, since);
      if (performance.now() - since >= limits.graceMs) for (const jobs of queues) await jobs.takeFrom(holder);
    }
  }

  async function connect(): Promise<pg.Client> {
    // The pool keeps the password out of what is copied.
    const client = new pg.Client({ ...pool.options, password: pool.options.password, query_timeout: ANSWER_MS });
    client.on("error", () => {});
    try {
      await client.connect();
      // Shared: the server may not have noticed yet that a connection before this one has ended.
      await client.query("SELECT pg_advisory_lock_shared($1, $2)", [PRESENCE_LOCK, number]);
      return client;
    } catch (error) {
      void client.end().catch(() => {});
      throw error;
    }
  }

  function disconnect(): undefined {
    // A connection that answers nothing does not answer to its end either.
    void connection?.end().catch(() => {});
    connection = undefined;
  }
}

async function listPresent(client: pg.Client): Promise<ReadonlySet<number>> {
  const { rows } = await client.query<{ number: string }>(
    `SELECT objid::bigint AS number FROM pg_locks
     WHERE locktype = 'advisory' AND classid = $1::bigint::oid AND objsubid = 2 AND granted
       AND database = (SELECT oid FROM pg_database WHERE datname = current_database())`,
    [PRESENCE_LOCK],
  );
  return new Set(rows.map(({ number }) => Number(number)));
}
