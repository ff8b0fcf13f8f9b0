import { join } from "node:path";
import { openPostgresQueue } from "../queue/postgres-queue.js";
import { openEmbeddedDatabase } from "./database.js";
import { openDocumentsFolder } from "./documents-folder.js";
import { migrate } from "./migrate.js";
import { openSecrets } from "./signing/open-secrets.js";
import { openRecords } from "./sql-records.js";
import type { Stores } from "./stores.js";

/** Everything in one data folder and one process, no server to install. */
export async function openEmbedded(dataFolder: string, publicUrl: string, sealingKeyFile?: string): Promise<Stores> {
  const database = await openEmbeddedDatabase(dataFolder);
  const { pool } = database;
  try {
    await migrate(pool);
    const queue = openPostgresQueue(pool);
    // Nobody else can be at work in this folder. Jobs that look as if they were belong to a process that was killed;
    // without them the first sweep starts everything unfinished at once, instead of after their locks run out.
    await queue.clear();
    const secrets = await openSecrets(pool, { dataFolder, sealingKeyFile });
    const records = openRecords(pool, queue, publicUrl, secrets);
    return {
      pool,
      records,
      documents: openDocumentsFolder(join(dataFolder, "documents")),
      queue,
      sealer: secrets.sealer,
      async close() {
        await records.close();
        await queue.close();
        await database.close();
      },
    };
  } catch (error) {
    await database.close();
    throw error;
  }
}
