/**
 * From handing in to the webhook's arrival, with nothing to read or judge, at half and at nine tenths of what the same two workers on
 * the same PostgreSQL manage at most; and that most against bare BullMQ jobs that do nothing, on the same server.
 */
import { setTimeout as sleep } from "node:timers/promises";
import { createPostgresBackend, type PostgresConnectionOptions, Queue, Worker } from "bullmq";
import { buildWorld } from "../faults/world.js";
import { startReceiver } from "../support/receiver.js";

const PEAK_JOBS = 200;
const SENDERS = 4;
const SECONDS = 15;

const world = await buildWorld();
await world.startWorker();
await world.startWorker();
const arrivedAt = new Map<string, number>();
const receiver = await startReceiver((response, count) => {
  arrivedAt.set(JSON.parse(receiver.received[count - 1]!.body).data.submission, performance.now());
  response.writeHead(204).end();
});

await runAll(40, "warm");
const peak = PEAK_JOBS / (await runAll(PEAK_JOBS, "peak"));
const bare = await bareJobs();
console.log(
  `${peak.toFixed(0)} submissions a second from commit to webhook; ${bare.toFixed(0)} bare jobs: ${(peak / bare).toFixed(2)} of them`,
);
for (const share of [0.5, 0.9]) {
  const times = (await runAt(peak * share)).sort((left, right) => left - right);
  const at = (part: number) => times[Math.floor(times.length * part)]!.toFixed(0);
  console.log(`at ${share * 100} % of it: p50 ${at(0.5)} ms, p99 ${at(0.99)} ms (${times.length} webhooks)`);
}
await receiver.close();
await world.end();

/** Seconds until the last is told. */
async function runAll(count: number, name: string): Promise<number> {
  const started = performance.now();
  await Promise.all(
    Array.from({ length: SENDERS }, async (_, sender) => {
      for (let number = sender; number < count; number += SENDERS)
        await world.submit(`wait 0 ${name} ${number}`, receiver.url);
    }),
  );
  await world.settle(120_000);
  return (performance.now() - started) / 1_000;
}

/** Milliseconds of each. */
async function runAt(perSecond: number): Promise<number[]> {
  const handedIn: Promise<{ id: string | undefined; at: number }>[] = [];
  const until = performance.now() + SECONDS * 1_000;
  while (performance.now() < until) {
    const at = performance.now();
    handedIn.push(world.submit(`wait 0 at ${at}`, receiver.url).then((id) => ({ id, at })));
    await sleep(1_000 / perSecond);
  }
  const all = await Promise.all(handedIn);
  await world.settle(120_000);
  return all.flatMap(({ id, at }) => (id !== undefined && arrivedAt.has(id) ? [arrivedAt.get(id)! - at] : []));
}

/** Jobs a second that are added as submissions are, and do nothing. */
async function bareJobs(): Promise<number> {
  const connection = world.stores.pool as PostgresConnectionOptions;
  const queue = new Queue("bare", { connection }, createPostgresBackend);
  let done = 0;
  const worker = new Worker("bare", async () => void done++, { connection, concurrency: 8 }, createPostgresBackend);
  const started = performance.now();
  await Promise.all(
    Array.from({ length: SENDERS }, async (_, sender) => {
      for (let number = sender; number < PEAK_JOBS; number += SENDERS) await queue.add("bare", {});
    }),
  );
  while (done < PEAK_JOBS) await sleep(5);
  const perSecond = PEAK_JOBS / ((performance.now() - started) / 1_000);
  await worker.close();
  await queue.close();
  return perSecond;
}
