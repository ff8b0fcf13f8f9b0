import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import pg from "pg";
import { afterAll, beforeAll, beforeEach, expect, it } from "vitest";
import { runCommand } from "../../../worker/cli/run-command.js";
import { appendAudit } from "../../../worker/store/audit.js";
import { migrate } from "../../../worker/store/migrate.js";
import { inTransaction } from "../../../worker/store/transaction.js";
import { temporaryFolder } from "../../support/invented.js";
import { startPostgres, type TestPostgres } from "../../support/postgres.js";
import { capturedTerminal } from "./captured-terminal.js";

/** Somebody who may do everything in the database: what of it `heatgate audit verify` finds, and what only with heads kept elsewhere. */
let postgres: TestPostgres;
let pool: pg.Pool;
let folder: Awaited<ReturnType<typeof temporaryFolder>>;
beforeAll(async () => {
  [postgres, folder] = await Promise.all([startPostgres(), temporaryFolder()]);
  pool = new pg.Pool({ connectionString: postgres.url });
  await migrate(pool);
  // The database refuses to change or delete entries, unless whoever owns the table says otherwise.
  await expect(pool.query("TRUNCATE heatgate.audit")).rejects.toThrow("only ever added to");
  await pool.query("ALTER TABLE heatgate.audit DISABLE TRIGGER USER");
}, 60_000);
afterAll(async () => {
  await pool?.end();
  await Promise.all([postgres?.remove(), folder?.remove()]);
});

const write = async (owner: string, ...subjects: string[]) => {
  const entry = { owner, actor: "M. Aurland", kind: "heat.decided", details: {} } as const;
  for (const subject of subjects) await inTransaction(pool, (client) => appendAudit(client, { ...entry, subject }));
};

async function verify(...args: string[]) {
  const env = { DATABASE_URL: postgres.url, HEATGATE_DATA: join(folder.path, "data") };
  const terminal = capturedTerminal({ env, folder: folder.path });
  const code = await runCommand(["audit", "verify", ...args], terminal.terminal);
  expect(terminal.stderr()).toBe("");
  return { code, out: terminal.stdout().toString("utf8") };
}

beforeEach(async () => {
  await pool.query("DELETE FROM heatgate.audit WHERE owner <> ''");
  await write("cut", "a", "b", "c");
  await write("yard", "a", "b");
  const { code, out } = await verify("--format", "json");
  expect(code).toBe(0);
  await writeFile(join(folder.path, "heads.json"), out);
});

it("what was only added to is whole and goes on from its heads, new clients and entries included", async () => {
  await write("yard", "c");
  await write("newcomer", "a");
  const { code, out } = await verify("--against", "heads.json");
  expect(code).toBe(0);
  expect(out).toMatch(/^cut: whole, 3 entries, head [0-9a-f]{64}$/m);
  expect(out).toMatch(/^newcomer: whole, 1 entries/m);
});

it.each([
  [
    "a changed field",
    "UPDATE heatgate.audit SET actor = 'O. Ther' WHERE owner = 'cut' AND number = 2",
    "entry 2 was changed",
  ],
  ["an entry taken out", "DELETE FROM heatgate.audit WHERE owner = 'cut' AND number = 2", "entry 2 is missing"],
  [
    "an entry of another client put in",
    `DELETE FROM heatgate.audit WHERE owner = 'cut' AND number = 2;
     UPDATE heatgate.audit SET owner = 'cut' WHERE owner = 'yard' AND number = 2`,
    "entry 2 does not follow from the one before it",
  ],
  [
    "two entries that changed places",
    `UPDATE heatgate.audit SET number = 9 WHERE owner = 'cut' AND number = 2;
     UPDATE heatgate.audit SET number = 2 WHERE owner = 'cut' AND number = 3;
     UPDATE heatgate.audit SET number = 3 WHERE owner = 'cut' AND number = 9`,
    "entry 2 does not follow",
  ],
])("%s is found without anything kept", async (_what, sql, fault) => {
  await pool.query(sql);
  const { code, out } = await verify();
  expect(code).toBe(1);
  expect(out).toContain(`cut: NOT whole: ${fault}`);
});

it.each<[what: string, spoil: () => Promise<void>, fault: string]>([
  [
    "the last entry cut off",
    async () => void (await pool.query("DELETE FROM heatgate.audit WHERE owner = 'cut' AND number = 3")),
    "its end was cut off: it had 3 entries when the head was kept, and has 2",
  ],
  [
    "a client's whole chain gone",
    async () => void (await pool.query("DELETE FROM heatgate.audit WHERE owner = 'cut'")),
    "its end was cut off: it had 3 entries when the head was kept, and has 0",
  ],
  [
    "a chain written anew, with hashes that fit",
    async () => {
      await pool.query("DELETE FROM heatgate.audit WHERE owner = 'cut'");
      await write("cut", "a", "invented", "c", "d");
    },
    "it was written anew: entry 3 is not the one",
  ],
])("%s looks whole by itself, and is found against a kept head", async (_what, spoil, fault) => {
  await spoil();
  expect((await verify()).code).toBe(0);
  const { code, out } = await verify("--against", "heads.json");
  expect(code).toBe(1);
  expect(out).toContain(`cut: NOT whole: ${fault}`);
});
