import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import type { AppDeps } from "../../api/deps.js";
import type { RunningWorker } from "../../worker/start-worker.js";
import { listAudit } from "../../worker/store/audit.js";
import { listHeatReports } from "../../worker/store/heat-reports.js";
import { listHeats } from "../../worker/store/heats.js";
import type { Keys } from "../../worker/store/keys.js";
import { openEmbedded } from "../../worker/store/open-embedded.js";
import { openSigningKeys } from "../../worker/store/signing/signing-keys.js";
import { openDecisions } from "../../worker/store/sql-decisions.js";
import { openEndpoints } from "../../worker/store/sql-endpoints.js";
import { openKeys } from "../../worker/store/sql-keys.js";
import { openRequirements } from "../../worker/store/sql-requirements.js";
import { openTrials } from "../../worker/store/sql-trials.js";
import type { Stores } from "../../worker/store/stores.js";
import { embeddedFolder } from "./embedded-folder.js";
import { startTestWorker } from "./running-worker.js";
import { type TestApi, testApi } from "./test-api.js";

export interface StoredApi {
  readonly api: Omit<TestApi, "records" | "keys">;
  readonly stores: Stores;
  readonly keys: Keys;
  readonly worker: RunningWorker;
  /** Fails if any answer was not as the OpenAPI document says. */
  close(): Promise<void>;
}

/** The app over a database of its own (PGlite) with nothing in memory that the service keeps, and a worker beside it. */
export async function storedApi(
  verifier: Parameters<typeof startTestWorker>[1],
  change: Partial<AppDeps> = {},
): Promise<StoredApi> {
  const folder = await embeddedFolder();
  const stores = await openEmbedded(folder.path, "http://heatgate.example");
  const worker = await startTestWorker(stores, verifier);
  const uploadFolder = join(folder.path, "uploads");
  await mkdir(uploadFolder);
  const { pool, queue, records, documents } = stores;
  const keys = openKeys(pool);
  const api = testApi({
    records,
    documents,
    keys,
    uploadFolder,
    signingKeys: openSigningKeys(pool, stores.sealer),
    requirements: openRequirements(pool),
    decisions: openDecisions(pool, queue),
    endpoints: openEndpoints(stores),
    trials: openTrials(pool, queue),
    listHeats: (filter, limit, cursor) => listHeats(pool, filter, limit, cursor),
    listHeatReports: (filter, limit) => listHeatReports(pool, filter, limit),
    listAudit: (owner, after, limit) => listAudit(pool, owner, after, limit),
    ...change,
  });
  return {
    api,
    stores,
    keys,
    worker,
    async close() {
      await worker.stop();
      await stores.close();
      await folder.remove();
      api.remove();
    },
  };
}
