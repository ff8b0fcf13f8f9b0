import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import type { AppDeps } from "../../api/deps.js";
import { storeDeps } from "../../api/store-deps.js";
import type { RunningWorker } from "../../worker/start-worker.js";
import type { Keys } from "../../worker/store/keys.js";
import { openEmbedded } from "../../worker/store/open-embedded.js";
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
  const own = storeDeps(stores);
  const api = testApi({ ...own, uploadFolder, ...change });
  return {
    api,
    stores,
    keys: own.keys,
    worker,
    async close() {
      await worker.stop();
      await stores.close();
      await folder.remove();
      api.remove();
    },
  };
}
