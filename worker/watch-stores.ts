import type { Logger } from "pino";
import { Gauge, type Registry } from "prom-client";
import { answersProbe } from "./store/answers-probe.js";

/** Each by its name; throws, with the reason, when the store could not be used now. */
export type StoreChecks = Readonly<Record<string, () => Promise<unknown>>>;

export const WATCH_STORES_MS = 15_000;
/** So many looks between one line of the log and the next about a store that stays away. */
const LOOKS_A_LINE = 20;

/**
 * Asks every store whether it is there, whether or not anybody uses it: a bucket that nobody asks would be missed by the next sender only. One
 * error line when it goes, one every five minutes while it stays away, one when it is back; `heatgate_store_up` tells it as 0 and 1.
 */
export function watchStores(
  checks: StoreChecks,
  log: Pick<Logger, "info" | "error">,
  registry: Registry,
  everyMs = WATCH_STORES_MS,
): { stop(): void } {
  const up = createStoreGauge(registry);
  const away = new Map<string, number>();
  let looking = false;
  const timer = setInterval(() => {
    if (looking) return;
    looking = true;
    void Promise.all(Object.entries(checks).map(([store, check]) => look(store, check))).finally(() => {
      looking = false;
    });
  }, everyMs);
  timer.unref();
  return { stop: () => clearInterval(timer) };

  async function look(store: string, check: () => Promise<unknown>): Promise<void> {
    const looks = away.get(store) ?? 0;
    try {
      await answersProbe(check());
      if (looks > 0) log.info({ store }, "a store is back");
      away.delete(store);
      up.set({ store }, 1);
    } catch (error) {
      if (looks % LOOKS_A_LINE === 0) log.error({ store, err: error }, "a store is away");
      away.set(store, looks + 1);
      up.set({ store }, 0);
    }
  }
}

export function createStoreGauge(registry: Registry) {
  return new Gauge({
    name: "heatgate_store_up",
    help: "Whether the store answered when it was last asked, every 15 s: 1, or 0.",
    labelNames: ["store"],
    registers: [registry],
  });
}
