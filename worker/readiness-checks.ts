import type { Settings } from "./config.js";
import { lastHeartbeat } from "./store/heartbeats.js";
import type { Stores } from "./store/stores.js";

/** What a worker needs to do its work; each check throws where it is missing. */
export function readinessChecks(stores: Stores, settings: Settings) {
  return {
    ...storeChecks(stores),
    async heartbeat() {
      if (settings.HEATGATE_HEARTBEAT_SECONDS === 0) return;
      const last = await lastHeartbeat(stores.pool);
      if (last?.outcome === "wrong") throw new Error(last.detail);
    },
  };
}

/** The stores that a worker uses. */
export function storeChecks({ records, documents, queue }: Stores) {
  return {
    records: () => records.check(),
    documents: () => documents.check(),
    queue: () => queue.check(),
  };
}
