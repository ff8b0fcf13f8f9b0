import { readSettings } from "../../worker/config.js";
import { migrate } from "../../worker/store/migrate.js";
import { openEmbedded } from "../../worker/store/open-embedded.js";
import { openSettingsDatabase, openStores } from "../../worker/store/open-stores.js";
import type { Stores } from "../../worker/store/stores.js";
import { embeddedFolder } from "./embedded-folder.js";
import { temporaryFolder } from "./invented.js";
import { startPostgres } from "./postgres.js";

/** For describe.each: what must hold on both. */
export const ENGINES = [["PGlite"], ["PostgreSQL"]] as const;
/** PGlite takes its time on a machine that others use as well. */
export const OPENING_MS = 180_000;
export type Engine = (typeof ENGINES)[number][0];

/** All stores on an engine of their own, documents in a folder. `folder`: for whatever the test writes besides. */
export async function openEngine(engine: Engine): Promise<Stores & { readonly folder: string }> {
  if (engine === "PGlite") {
    const folder = await embeddedFolder();
    const stores = await openEmbedded(folder.path, "https://heatgate.example");
    return { ...stores, folder: folder.path, close: () => stores.close().finally(folder.remove) };
  }
  const server = await startPostgres();
  const folder = await temporaryFolder();
  const settings = readSettings({ DATABASE_URL: server.url, HEATGATE_DATA: folder.path });
  const database = openSettingsDatabase(settings);
  await migrate(database.pool);
  await database.close();
  const stores = await openStores(settings, { warn: () => {} });
  return {
    ...stores,
    folder: folder.path,
    async close() {
      await stores.close();
      await server.remove();
      await folder.remove();
    },
  };
}
