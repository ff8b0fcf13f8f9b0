import { profileOf, readSettings } from "./config.js";
import { withoutSecrets } from "./log-error.js";
import { migrate, schemaVersion } from "./store/migrate.js";
import { openSettingsDatabase } from "./store/open-stores.js";
import { reachPostgres } from "./store/self-check.js";

/** `npm run migrate`: brings a PostgreSQL database to this program's schema. The embedded profile does so by itself. */
async function main(): Promise<void> {
  const settings = readSettings(process.env);
  if (profileOf(settings) === "embedded") {
    console.error("DATABASE_URL is not set. The embedded profile migrates its data folder by itself when it starts.");
    process.exitCode = 2;
    return;
  }
  const database = openSettingsDatabase(settings);
  try {
    await reachPostgres(database.pool);
    const from = await schemaVersion(database.pool);
    await migrate(database.pool);
    console.error(`The schema went from version ${from} to ${await schemaVersion(database.pool)}.`);
  } finally {
    await database.close();
  }
}

await main().catch((error: Error) => {
  console.error(withoutSecrets(error.message));
  process.exitCode = 1;
});
