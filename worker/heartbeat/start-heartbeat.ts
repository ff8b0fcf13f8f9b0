import type { Logger } from "pino";
import type { Metrics } from "../metrics.js";
import { beginHeartbeat } from "../store/heartbeats.js";
import type { Stores } from "../store/stores.js";
import { beat } from "./beat.js";

export interface HeartbeatDeps extends Omit<Stores, "close"> {
  readonly log: Logger;
  readonly metrics: Pick<Metrics, "heartbeats" | "heartbeatSeconds">;
}

const WITHIN_MS = 60_000;

/** `everyMs`: for all processes together; they take turns. 0: no heartbeats. */
export function startHeartbeat(deps: HeartbeatDeps, everyMs: number): { stop(): Promise<void> } {
  if (everyMs === 0) return { stop: async () => {} };
  let running: Promise<void> = Promise.resolve();
  const timer = setInterval(
    () => {
      running = running.then(() => takeTurn(deps, everyMs));
    },
    Math.max(everyMs / TURNS_ASKED_FOR, 100),
  );
  timer.unref();
  return {
    async stop() {
      clearInterval(timer);
      await running;
    },
  };
}

/** In one interval each process asks so often whether it is time, so that the next heartbeat is never much too late. */
const TURNS_ASKED_FOR = 4;

async function takeTurn(deps: HeartbeatDeps, everyMs: number): Promise<void> {
  const { log, metrics, pool } = deps;
  try {
    if (!(await beginHeartbeat(pool, everyMs))) return;
    const end = metrics.heartbeatSeconds.startTimer();
    const { outcome, detail } = await beat(deps, WITHIN_MS);
    end();
    metrics.heartbeats.inc({ outcome });
    // A wrong verdict on a known document puts every other verdict in doubt: somebody has to look at once.
    if (outcome === "wrong") log.fatal({ detail }, "heartbeat judged wrongly");
    else if (outcome === "late") log.warn({ detail }, "heartbeat late");
    else log.debug("heartbeat judged rightly");
  } catch (error) {
    metrics.heartbeats.inc({ outcome: "error" });
    log.warn({ err: error }, "heartbeat did not get through");
  }
}
