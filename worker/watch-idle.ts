import type { QueueName } from "./queue/queue.js";

export interface WatchedQueue {
  readonly name: QueueName;
  /** Since a job of it last began or ended here; 0 while this worker's hands are full. */
  idleForMs(): number;
  /** Jobs that a worker could begin now, asked over a connection made for the question. */
  countReady(): Promise<number>;
}

export interface WatchLimits {
  readonly idleMs: number;
  readonly lookMs: number;
  /** Looks in a row that must find jobs waiting. */
  readonly looks: number;
}

/**
 * Together a minute and three quarters. Longer than anything after which a worker goes on by itself: the queue asks again 15 s after an
 * error, a silent Redis connection is made anew after 15 s, a query on a silent PostgreSQL connection is given up after 30 s.
 */
export const WATCH_LIMITS: WatchLimits = { idleMs: 60_000, lookMs: 15_000, looks: 3 };

/**
 * Calls `alarm`, once, when this worker begins nothing although it could and jobs wait: its connections to the queue are dead and look
 * alive, and only a new process is sure to mend that. A store that does not answer the question is away, which a restart does not
 * mend, and is no reason for an alarm; nor are jobs that others take in time.
 */
export function watchIdle(
  queues: readonly WatchedQueue[],
  limits: WatchLimits,
  alarm: (queue: QueueName, waiting: number) => void,
): { stop(): void } {
  const seen = new Map<QueueName, number>();
  let looking = false;
  const timer = setInterval(() => {
    if (looking) return;
    looking = true;
    void look().finally(() => {
      looking = false;
    });
  }, limits.lookMs);
  timer.unref();
  return { stop: () => clearInterval(timer) };

  async function look(): Promise<void> {
    for (const { name, idleForMs, countReady } of queues) {
      const waiting = idleForMs() < limits.idleMs ? 0 : await countReady().catch(() => 0);
      // It may have begun one while the question was under way.
      const looks = waiting > 0 && idleForMs() >= limits.idleMs ? (seen.get(name) ?? 0) + 1 : 0;
      seen.set(name, looks);
      if (looks < limits.looks) continue;
      clearInterval(timer);
      alarm(name, waiting);
      return;
    }
  }
}
