import { cp, mkdtemp, rename, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { PGlite } from "@electric-sql/pglite";
import manifest from "../../package.json" with { type: "json" };
import { temporaryFolder } from "./invented.js";

const TEMPLATE = join(tmpdir(), `heatgate-empty-pglite-${manifest.dependencies["@electric-sql/pglite"]}`);

/**
 * A data folder whose database was made, empty, but not yet opened. Making one takes PGlite seconds, and is the same every
 * time; so it is made once on this machine and copied.
 */
export async function embeddedFolder(): Promise<Awaited<ReturnType<typeof temporaryFolder>>> {
  const folder = await temporaryFolder();
  await copyTemplate(join(folder.path, "records"));
  return folder;
}

async function copyTemplate(to: string): Promise<void> {
  try {
    await cp(TEMPLATE, to, { recursive: true });
  } catch {
    await rm(to, { recursive: true, force: true });
    await makeTemplate();
    await cp(TEMPLATE, to, { recursive: true });
  }
}

async function makeTemplate(): Promise<void> {
  const made = await mkdtemp(`${TEMPLATE}-`);
  const database = await PGlite.create({ dataDir: made });
  await database.close();
  // Another test file may have been quicker.
  await rename(made, TEMPLATE).catch(() => rm(made, { recursive: true, force: true }));
}
