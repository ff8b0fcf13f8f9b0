import type pg from "pg";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openPostgresQueue } from "../../../worker/queue/postgres-queue.js";
import { listAudit } from "../../../worker/store/audit.js";
import { listOverdueDeliveryJobs, listUnfinishedJobs } from "../../../worker/store/backlog.js";
import { type Database, openServerDatabase } from "../../../worker/store/database.js";
import { findEarlierReadings } from "../../../worker/store/earlier-readings.js";
import { areNeededElsewhere } from "../../../worker/store/erased-bytes.js";
import { listHeatReports } from "../../../worker/store/heat-reports.js";
import { type HeatFilter, listHeats } from "../../../worker/store/heats.js";
import { migrate } from "../../../worker/store/migrate.js";
import { EVERY_OWNER, type ListFilter, type Records } from "../../../worker/store/records.js";
import {
  eraseOldDocuments,
  eraseOldSubmissions,
  type Remove,
  removeOldDryRuns,
  removeOldEvents,
  removeOldIdempotencyKeys,
} from "../../../worker/store/retention.js";
import { openSecrets } from "../../../worker/store/signing/open-secrets.js";
import { openRecords } from "../../../worker/store/sql-records.js";
import { countUnfinishedTrials, listUnfinishedTrialJobs } from "../../../worker/store/trial-jobs.js";
import { growStore } from "../../support/grown-store.js";
import { newSubmission, temporaryFolder, UNREAD_DOCUMENT } from "../../support/invented.js";
import { startPostgres, type TestPostgres } from "../../support/postgres.js";

/** PLANS_ROWS=200000 for a look at what grows. */
const STORED = Number(process.env.PLANS_ROWS ?? 20_000);
const BEGUN = 1_700_000_000_000;
const EVERY_SECONDS = 600;
/** A page of 50 with what it is joined to, and a day more where lists are by date. Whoever reads a client's tenth of all looks at more. */
const MAY_LOOK_AT = { rows: 1_500, pages: 2_500 };

let server: TestPostgres;
let database: Database;
let asking: Database;
let folder: Awaited<ReturnType<typeof temporaryFolder>>;
let records: Records;
let close: () => Promise<void>;
const plans: { readonly Plan: Plan }[] = [];

beforeAll(async () => {
  server = await startPostgres();
  database = openServerDatabase({ url: server.url, connections: 2 });
  await migrate(database.pool);
  folder = await temporaryFolder();
  const secrets = await openSecrets(database.pool, { dataFolder: folder.path, sealingKeyFile: undefined });
  await growStore(database.pool, 0, STORED, EVERY_SECONDS);
  await database.pool.query("VACUUM ANALYZE");
  asking = openServerDatabase({ url: server.url, connections: 2 });
  asking.pool.on("connect", (client) => void tellPlans(client));
  const queue = openPostgresQueue(asking.pool);
  records = openRecords(asking.pool, queue, "https://heatgate.example", secrets);
  // What is asked for once only.
  await QUESTIONS["hand in"]!();
  close = async () => {
    await records.close();
    await queue.close();
    await Promise.all([asking.close(), database.close()]);
  };
}, 300_000);
afterAll(async () => {
  await close();
  await server.remove();
  await folder.remove();
});

const OWNER = "client 3";
const MIDDLE = Math.floor(STORED / 20) * 10 + 3;
const idOf = (number: number) => {
  const at = (BEGUN + number * EVERY_SECONDS * 1_000).toString(16).padStart(12, "0");
  const digits = `${at}70008000${number.toString(16).padStart(12, "0")}`;
  return digits.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
};
/** Some twenty submissions of a client, long ago. */
const CREATED_THEN = {
  createdFrom: new Date(BEGUN + 1_000 * EVERY_SECONDS * 1_000),
  createdBefore: new Date(BEGUN + 1_200 * EVERY_SECONDS * 1_000),
};
const pool = () => asking.pool;
const list = (filter: ListFilter, cursor?: string) => () =>
  records.listSubmissions({ owner: OWNER, ...filter }, 50, cursor);
const heats = (filter: Partial<HeatFilter>, cursor?: string) => () =>
  listHeats(pool(), { owner: OWNER, ...filter }, 50, cursor);
/** Of everything older than 100 days all is due, and of 10,000 days nothing. */
const remove = (what: Remove, days: number) => () => what(pool(), days, 20);
async function drained(pages: AsyncIterable<unknown>) {
  for await (const _ of pages);
}

const QUESTIONS: Readonly<Record<string, () => Promise<unknown>>> = {
  "hand in": () => records.createSubmission(newSubmission([UNREAD_DOCUMENT], { owner: OWNER })),
  "the same content": () => records.findSameContent(OWNER, `content ${MIDDLE}`),
  "an idempotency key": () => records.findByIdempotencyKey(OWNER, `key ${MIDDLE}`),
  "a submission": () => records.getSubmission(idOf(MIDDLE), OWNER),
  "a report": () => records.getReport(idOf(MIDDLE), EVERY_OWNER),
  "list the newest": list({}),
  "list from the middle": list({}, idOf(MIDDLE)),
  "list what waits": list({ state: "accepted" }),
  "list what failed": list({ state: "failed" }),
  "list by verdict": list({ owner: "client 0", verdict: "fail" }),
  "list by tag": list({ tags: { order: String(MIDDLE % 5_000) } }),
  "list some days long ago": list(CREATED_THEN),
  "list passes of some days long ago": list({ ...CREATED_THEN, verdict: "pass" }),
  "list before long ago": list({ createdBefore: CREATED_THEN.createdBefore }),
  "heats, the newest": heats({}),
  "heats from the middle": heats({}, `${idOf(MIDDLE)}.0`),
  "heats by number": heats({ heat: `H${MIDDLE}` }),
  "heats by verdict": heats({ owner: "client 0", verdict: "fail" }),
  "heats by tag": heats({ tags: { order: String(MIDDLE % 5_000) } }),
  "heats of some days long ago": heats(CREATED_THEN),
  "heats of a small client": heats({ owner: "yard" }),
  "history of some days long ago": () => listHeatReports(pool(), { owner: OWNER, ...CREATED_THEN }, 50),
  "earlier readings": () => findEarlierReadings(pool(), idOf(MIDDLE), [`H${MIDDLE}`, `H${MIDDLE + 10}`]),
  "events since": () => records.listEvents(OWNER, STORED / 2, 50),
  "events of all clients since": () => records.listEvents(undefined, STORED / 2, 50),
  "deliveries of a submission": () => records.listDeliveries(idOf(MIDDLE), EVERY_OWNER),
  "the audit trail since": () => listAudit(pool(), "client", STORED / 2, 50),
  "what is unfinished": () => records.countBacklog(),
  "sweep for submissions": () => drained(listUnfinishedJobs(pool(), 1_000)),
  "sweep for deliveries": () => drained(listOverdueDeliveryJobs(pool(), 1_000)),
  "sweep for trials": async () => [await countUnfinishedTrials(pool()), await listUnfinishedTrialJobs(pool(), 1_000)],
  "retention of submissions, nothing due": remove(eraseOldSubmissions, 10_000),
  "retention of documents, nothing due": remove(eraseOldDocuments, 10_000),
  "retention of documents, all due": remove(eraseOldDocuments, 100),
  "retention of events, nothing due": remove(removeOldEvents, 10_000),
  "retention of events, all due": remove(removeOldEvents, 100),
  "retention of dry runs, none there": remove(removeOldDryRuns, 100),
  "retention of idempotency keys, nothing due": remove(removeOldIdempotencyKeys, 10_000),
  "retention of idempotency keys, all due": remove(removeOldIdempotencyKeys, 100),
  "bytes that others need": () => areNeededElsewhere(pool(), ["0".repeat(64)], idOf(MIDDLE)),
};

test.each(Object.keys(QUESTIONS))("%s: what is looked at does not grow with what is stored", async (name) => {
  plans.length = 0;
  await QUESTIONS[name]!();
  expect(plans.length).toBeGreaterThan(0);
  const scans = plans.flatMap(({ Plan }) => scansOf(Plan));
  const rows = scans.reduce((sum, { looked }) => sum + looked, 0);
  const pages = plans.reduce((sum, { Plan }) => sum + Plan["Shared Hit Blocks"] + Plan["Shared Read Blocks"], 0);
  if (process.env.PLANS_ROWS) console.log(`${name}: ${rows} rows, ${pages} pages, ${plans.length} statements`);
  const told = scans.map(({ node, looked }) => `${looked} rows by ${node}`).join("\n");
  expect(rows, told).toBeLessThanOrEqual(MAY_LOOK_AT.rows);
  expect(pages, told).toBeLessThanOrEqual(MAY_LOOK_AT.pages);
});

interface Plan {
  readonly "Node Type": string;
  readonly "Relation Name"?: string;
  readonly "Index Name"?: string;
  readonly "Actual Rows": number;
  readonly "Actual Loops": number;
  readonly "Rows Removed by Filter"?: number;
  readonly "Rows Removed by Index Recheck"?: number;
  readonly "Shared Hit Blocks": number;
  readonly "Shared Read Blocks": number;
  readonly Plans?: readonly Plan[];
}

/** PostgreSQL tells the plan of each statement, and what it came to, on the connection that asked. */
async function tellPlans(client: pg.PoolClient): Promise<void> {
  client.on("notice", ({ message = "" }) => {
    const at = message.indexOf("{");
    if (message.startsWith("duration:") && at > 0) plans.push(JSON.parse(message.slice(at)));
  });
  await client.query(
    `LOAD 'auto_explain'; SET auto_explain.log_min_duration = 0; SET auto_explain.log_analyze = on; SET auto_explain.log_timing = off;
     SET auto_explain.log_buffers = on; SET auto_explain.log_nested_statements = on; SET auto_explain.log_format = json;
     SET auto_explain.log_level = notice`,
  );
}

/** Rows of tables that PostgreSQL looked at, those that it left out included, and where. */
function scansOf(plan: Plan): { readonly node: string; readonly looked: number }[] {
  const inner = (plan.Plans ?? []).flatMap(scansOf);
  if (!plan["Relation Name"] && !plan["Index Name"]) return inner;
  const perLoop =
    plan["Actual Rows"] + (plan["Rows Removed by Filter"] ?? 0) + (plan["Rows Removed by Index Recheck"] ?? 0);
  const node = `${plan["Node Type"]} ${plan["Index Name"] ?? ""} ${plan["Relation Name"] ?? ""}`;
  return [...inner, { node, looked: perLoop * plan["Actual Loops"] }];
}
