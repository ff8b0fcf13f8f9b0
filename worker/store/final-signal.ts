import type pg from "pg";
import { FINAL_CHANNEL } from "./progress.js";

export interface FinalSignal {
  /** Resolves once it listens. `woken` resolves when this submission may have become final, or after `timeoutMs`. */
  listenFor(id: string, timeoutMs: number): Promise<{ readonly woken: Promise<void>; stop(): void }>;
  close(): Promise<void>;
}

/** One listening connection serves everybody who waits in this process. */
export function openFinalSignal(pool: pg.Pool): FinalSignal {
  const waiting = new Map<string, Set<() => void>>();
  let listener: Promise<pg.PoolClient> | undefined;
  let closed = false;

  return {
    async listenFor(id, timeoutMs) {
      if (!listener && !closed) listener = listen();
      // A listener that cannot be had leaves the caller to its polling.
      await listener?.catch(forget);

      let wake = () => {};
      const woken = new Promise<void>((resolve) => {
        const timer = setTimeout(() => wake(), closed ? 0 : timeoutMs);
        wake = () => {
          clearTimeout(timer);
          remove(id, wake);
          resolve();
        };
        waiting.set(id, (waiting.get(id) ?? new Set()).add(wake));
      });
      return { woken, stop: wake };
    },
    async close() {
      closed = true;
      for (const wakers of [...waiting.values()]) for (const wake of [...wakers]) wake();
      const client = await listener?.catch(() => undefined);
      listener = undefined;
      client?.release(true);
    },
  };

  async function listen(): Promise<pg.PoolClient> {
    const client = await pool.connect();
    client.on("error", () => {
      forget();
      client.release(true);
    });
    client.on("notification", ({ channel, payload }) => {
      if (channel !== FINAL_CHANNEL || !payload) return;
      for (const wake of [...(waiting.get(payload) ?? [])]) wake();
    });
    await client.query(`LISTEN ${FINAL_CHANNEL}`);
    return client;
  }

  function forget(): void {
    listener = undefined;
  }

  function remove(id: string, wake: () => void): void {
    const wakers = waiting.get(id);
    wakers?.delete(wake);
    if (wakers?.size === 0) waiting.delete(id);
  }
}
