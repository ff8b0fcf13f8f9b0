import { readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { EVERY_OWNER } from "../../worker/store/records.js";
import { startChild } from "../support/child.js";
import { newSubmission, sha256, UNREAD_DOCUMENT } from "../support/invented.js";
import { startApi } from "./calling-api.js";
import { fillDisk } from "./disk.js";
import type { Fault } from "./fault.js";
import { buildWorld } from "./world.js";

const killedBeforeAnswering: Fault = {
  name: "api killed between commit and answer, sender tries again with the same Idempotency-Key",
  limitMs: 20_000,
  quick: true,
  async run() {
    const world = await buildWorld();
    const key = "order-4711";
    const api = startChild("../faults/accepting-process.ts", [key], world.environment);
    await api.until(() => false).catch(() => {});
    const again = newSubmission([UNREAD_DOCUMENT], { idempotency: { key, fingerprint: key } });
    const { id } = await world.stores.records.createSubmission(again);
    const { items } = await world.stores.records.listSubmissions({}, 10);
    await world.startWorker();
    const recoveredMs = await world.settle(this.limitMs);
    const done = await world.stores.records.getSubmission(id);
    await world.end();
    const broken: string[] = [];
    if (items.length !== 1) broken.push(`one request became ${items.length} submissions`);
    if (done?.state !== "done" || done.documents[0]?.sha256 === UNREAD_DOCUMENT.sha256) {
      broken.push(`the first request's submission is ${done?.state}`);
    }
    return { recoveredMs, accepted: 1, note: `${items.length} submission after two requests`, broken };
  },
};

/** A sender whose line breaks sends again, and does not know what became of the first. */
const SENDERS = 8;

const duplicates: Fault = {
  name: "the same request eight times at once and once more later; its jobs a second time when all is done",
  limitMs: 20_000,
  quick: true,
  async run() {
    const world = await buildWorld();
    const api = await startApi(world);
    const { records, queue, pool } = world.stores;
    await world.startWorker();
    const text = "wait 500 once";
    const answers = await Promise.all(
      Array.from({ length: SENDERS }, () => api.submitUntilTaken(text, "order-4712", this.limitMs)),
    );
    const [id = "", ...others] = new Set(answers.map((answer) => answer.id));
    const broken = others.map((other) => `the same request also became ${other}`);
    for (const { status } of answers)
      if (status !== 202 && status !== 200) broken.push(`a sender was answered ${status}`);
    const again = await api.submit(text, "order-4712");
    if (again.id !== id) broken.push(`the same request became ${again.id} later`);
    const sameContent = await api.submit(text);
    if (sameContent.id !== id) broken.push(`the same document became ${sameContent.id}`);

    // One with a receiver, which is told once however often the queue has its jobs.
    const told = (await world.submit("wait 0 told"))!;
    const recoveredMs = await world.settle(this.limitMs);
    const [delivery] = await records.listDeliveries(told, EVERY_OWNER);
    for (let time = 1; time <= 3; time++) {
      await queue.addAgain([
        { queue: "judge", subject: id },
        { queue: "judge", subject: told },
        { queue: "deliver", subject: delivery!.id, key: `${delivery!.id}-again-${time}` },
      ]);
    }
    while ((await queue.countJobs("judge")) + (await queue.countJobs("deliver")) > 0) await sleep(50);
    broken.push(...(await world.check()));
    if (world.receiver.received.length !== 1)
      broken.push(`its receiver heard it ${world.receiver.received.length} times`);
    const { rows } = await pool.query(
      `SELECT (SELECT count(*)::integer FROM heatgate.submission) AS submissions,
              (SELECT count(*)::integer FROM heatgate.report) AS reports,
              (SELECT count(*)::integer FROM heatgate.event) AS events`,
    );
    for (const [what, count] of Object.entries(rows[0]))
      if (count !== 2) broken.push(`two requests left ${count} ${what}`);
    await api.stop();
    await world.end();
    const note = `${SENDERS + 2} requests became 1 submission; 9 jobs too many did nothing`;
    return { recoveredMs, accepted: 2, note, broken };
  },
};

const diskFull: Fault = {
  name: "disk of the data folder is full while documents are handed in",
  limitMs: 20_000,
  async run() {
    const world = await buildWorld({ disk: "8m" });
    const api = await startApi(world);
    await world.startWorker();
    const folder = world.environment.HEATGATE_DATA;
    const kept = () => readdirSync(folder, { recursive: true }).map(String);
    const documents = [`wait 0 ${"x".repeat(1_000_000)}`, "wait 0 small"].map((text) => ({ text, key: sha256(text) }));
    const broken: string[] = [];
    const before = await api.submit("wait 0 before", "before");
    if (before.status !== 202) broken.push(`before it was full a document was answered ${before.status}`);
    const filesBefore = kept();
    const filler = join(folder, "filler");
    fillDisk(filler);
    for (const { text, key } of documents) {
      const { status, retryAfter } = await api.submit(text, key);
      if (status !== 503 || retryAfter === undefined) broken.push(`${text.length} bytes were answered ${status}`);
    }
    const probe = await api.get("/readyz");
    if (probe.status !== 503) broken.push(`readyz said ${probe.status}`);
    rmSync(filler);
    const leftBehind = kept().filter((name) => !filesBefore.includes(name));
    if (leftBehind.length > 0) broken.push(`left behind: ${leftBehind.join(", ")}`);
    const { rows } = await world.stores.pool.query("SELECT count(*)::integer AS rows FROM heatgate.submission");
    if (rows[0].rows !== 1) broken.push(`${rows[0].rows - 1} refused submissions were kept`);

    const repaired = performance.now();
    for (const { text, key } of documents) {
      const { id = "" } = await api.submitUntilTaken(text, key, this.limitMs);
      const state = (await world.stores.records.waitUntilFinal(id, this.limitMs))?.state;
      if (state !== "done") broken.push(`with room again ${text.length} bytes ended as ${state}`);
    }
    const recoveredMs = performance.now() - repaired;
    await api.stop();
    await world.end();
    const note = "503 with Retry-After, not ready; no row and no file left behind";
    return { recoveredMs, accepted: 3, note, broken };
  },
};

export const ACCEPTING_FAULTS: readonly Fault[] = [killedBeforeAnswering, duplicates, diskFull];
