import { setTimeout as sleep } from "node:timers/promises";
import { startReceiver } from "../support/receiver.js";
import { conclude, type Fault, startLoad } from "./fault.js";
import { buildWorld, type World } from "./world.js";

const killedInJob: Fault = {
  name: "worker killed in the middle of its jobs, another one goes on",
  limitMs: 20_000,
  quick: true,
  async run(random) {
    const world = await buildWorld();
    const victim = await world.startWorker();
    await world.startWorker();
    const load = startLoad(world, random);
    for (let number = 0; number < 4; number++) await world.submit(`wait 1500 ${number}`);
    await sleep(500 + random() * 500);
    await victim.kill("SIGKILL");
    await load.stop();
    return conclude(world, this.limitMs, "1 of 2 workers killed");
  },
};

const killedTwiceInJob: Fault = {
  name: "worker killed twice over the same job, which a third one ends",
  limitMs: 30_000,
  async run() {
    const world = await buildWorld();
    const { pool } = world.stores;
    await world.submit("wait 2500 twice");
    const startsAre = async (wanted: number) => {
      for (;;) {
        const { rows } = await pool.query("SELECT starts FROM heatgate.submission");
        if (rows[0].starts >= wanted) return;
        await sleep(50);
      }
    };
    for (const deaths of [1, 2]) {
      const victim = await world.startWorker();
      await startsAre(deaths);
      await sleep(500);
      await victim.kill("SIGKILL");
    }
    await world.startWorker();
    const recoveredMs = await world.settle(this.limitMs * 2);
    const broken = [...(await world.check())];
    const { rows } = await pool.query("SELECT state, starts FROM heatgate.submission");
    if (rows[0].state !== "done" || rows[0].starts !== 3)
      broken.push(`it is ${rows[0].state} after ${rows[0].starts} starts`);
    await world.end();
    return { recoveredMs, accepted: 1, note: `${rows[0].state} at the third start`, broken };
  },
};

/** Longer than a lock: its holder answers to nothing, and looks as dead as one that was killed. */
const BUSY_MS = 14_000;

const busyJob: Fault = {
  name: "a job that keeps its worker's processor busy for 14 s, longer than a lock, among others",
  limitMs: 40_000,
  async run(random) {
    const world = await buildWorld();
    await world.startWorker();
    await world.startWorker();
    const busy = (await world.submit(`busy ${BUSY_MS}`))!;
    const load = startLoad(world, random, 10);
    await sleep(3_000);
    await load.stop();
    const recoveredMs = await world.settle(this.limitMs * 2);
    const broken = [...(await world.check())];
    const { rows } = await world.stores.pool.query("SELECT id, state, starts FROM heatgate.submission");
    for (const { id, state } of rows) if (state !== "done") broken.push(`${id} is ${state}`);
    const starts = rows.find(({ id }) => id === busy)?.starts;
    await world.end();
    const note = `${BUSY_MS / 1_000} s without a renewed lock; started ${starts} times, reported once`;
    return { recoveredMs, accepted: rows.length, note, broken };
  },
};

/**
 * What others wait for their reports may grow by so much, in the 95th percentile, while workers die beside them. What a dying worker had in
 * hand besides waits for its lock, a hundred times the usual; those few must stay above the percentile. Below three lies what
 * two halves of a calm time differ by on a busy machine, which is measured as well.
 */
const POISONED_RATIO = 3;

const poison: Fault = {
  name: "a document that kills every worker that reads it, among others, which are timed without and with it",
  limitMs: 75_000,
  async run(random) {
    const world = await buildWorld();
    let deaths = 0;
    let running = true;
    // Two places for workers, each filled again when its worker dies, before or after it said that it works.
    const supervise = async () => {
      while (running) {
        const worker = await world.startWorker().catch(() => undefined);
        await worker?.until(() => false).catch(() => {});
        if (running) deaths++;
      }
    };
    const supervising = [supervise(), supervise()];
    await world.settleOne(this.limitMs);
    const before = world.accepted.length;
    await loadFor(world, random, 10_000);
    const untilCalm = world.accepted.length;
    const calm = world.accepted.slice(before);
    const halves = [calm.slice(0, calm.length / 2), calm.slice(calm.length / 2)];
    const [first = 0, last = 0] = await Promise.all(halves.map((half) => percentile95(world, half)));

    const poisonous = (await world.submit("die"))!;
    const handedIn = performance.now();
    const isolated = world.stores.records.waitUntilFinal(poisonous, this.limitMs * 2);
    // Neighbours that take long enough to be in the dying process.
    const neighbours: (string | undefined)[] = [];
    for (let number = 0; number < 8; number++) neighbours.push(await world.submit(`wait 900 neighbour ${number}`));
    const load = startLoad(world, random, 10);
    await isolated;
    const isolatedMs = performance.now() - handedIn;
    await load.stop();
    await world.settle(this.limitMs);
    running = false;
    const others = world.accepted.filter((id) => id !== poisonous);
    const states = await Promise.all(others.map(async (id) => (await world.stores.records.getSubmission(id))?.state));
    const punished = states.filter((state) => state !== "done").length;
    const { state, failure } = (await world.stores.records.getSubmission(poisonous))!;
    const beside = world.accepted.slice(untilCalm).filter((id) => id !== poisonous && !neighbours.includes(id));
    const [p95, poisoned] = [await percentile95(world, calm), await percentile95(world, beside)];
    const ratio = poisoned / p95;
    const undisturbed = Math.max(first, last) / Math.min(first, last);
    const note =
      `${deaths} workers died, then ${state}: ${failure?.code}; p95 of others ${p95.toFixed(0)} ms without it, ` +
      `${poisoned.toFixed(0)} ms with it (${ratio.toFixed(2)}), two halves without it ${undisturbed.toFixed(2)}`;
    const result = await conclude(world, this.limitMs, note);
    await Promise.all(supervising);
    const broken = failure?.code === "gave-up-after-crashes" ? [] : [`the poisonous document ended as ${state}`];
    if (punished > 0) broken.push(`${punished} of its neighbours were not judged`);
    if (!(ratio <= POISONED_RATIO)) broken.push(`others waited ${ratio.toFixed(2)} times as long`);
    return { ...result, recoveredMs: isolatedMs, broken: [...result.broken, ...broken] };
  },
};

async function loadFor(world: World, random: () => number, ms: number): Promise<void> {
  const load = startLoad(world, random, 10);
  await sleep(ms);
  await load.stop();
  await world.settle(60_000);
}

/** Milliseconds from acceptance to the final state. */
async function percentile95({ stores }: World, ids: readonly string[]): Promise<number> {
  const { rows } = await stores.pool.query(
    `SELECT percentile_cont(0.95) WITHIN GROUP (ORDER BY extract(epoch FROM finished_at - created_at)) * 1000 AS p95
     FROM heatgate.submission WHERE id = ANY ($1)`,
    [ids],
  );
  return Number(rows[0].p95);
}

const politeStop: Fault = {
  name: "polite stop under load",
  limitMs: 30_000,
  quick: true,
  async run(random) {
    const world = await buildWorld();
    const worker = await world.startWorker();
    const load = startLoad(world, random);
    for (let number = 0; number < 4; number++) await world.submit(`wait 800 ${number}`);
    await sleep(500);
    const asked = performance.now();
    await worker.kill("SIGTERM");
    const stoppedMs = performance.now() - asked;
    await load.stop();
    const { rows } = await world.stores.pool.query(
      "SELECT count(*)::integer AS active FROM bullmq.job WHERE state = 'active'",
    );
    await world.startWorker();
    const result = await conclude(world, this.limitMs, `stopped in ${Math.round(stoppedMs)} ms`);
    const broken = rows[0].active === 0 ? [] : [`${rows[0].active} jobs were left to stall`];
    return { ...result, broken: [...result.broken, ...broken] };
  },
};

const slowReceiver: Fault = {
  name: "a receiver that takes 15 s for each answer, beside a quick one",
  limitMs: 90_000,
  async run() {
    const world = await buildWorld();
    const slow = await startReceiver((response) => void setTimeout(() => response.writeHead(200).end(), 15_000));
    await world.startWorker();
    for (let number = 0; number < 12; number++) await world.submit(`wait 0 slow ${number}`, slow.url);
    for (let number = 0; number < 60; number++) await world.submit(`wait 0 quick ${number}`);
    const handedIn = performance.now();
    await world.receiver.waitFor(60);
    const quickMs = Math.round(performance.now() - handedIn);
    await world.settle(this.limitMs);
    const broken = [...(await world.check(slow.received))];
    if (quickMs > 5_000) broken.push(`the quick receiver waited ${quickMs} ms`);
    const accepted = world.accepted.length;
    await slow.close();
    await world.end();
    return { recoveredMs: quickMs, accepted, note: "time until the quick one had heard everything", broken };
  },
};

const receiverDown: Fault = {
  name: "receiver answers 503 to every first try",
  limitMs: 20_000,
  quick: true,
  async run(random) {
    const world = await buildWorld();
    const tries = new Map<string, number>();
    const unwilling = await startReceiver((response, count) => {
      const id = String(unwilling.received[count - 1]?.headers["webhook-id"]);
      tries.set(id, (tries.get(id) ?? 0) + 1);
      response.writeHead(tries.get(id) === 1 ? 503 : 204).end();
    });
    await world.startWorker();
    for (let number = 0; number < 20; number++) await world.submit(`wait 0 ${random()}`, unwilling.url);
    const recoveredMs = await world.settle(this.limitMs);
    const broken = await world.check(unwilling.received);
    const accepted = world.accepted.length;
    await unwilling.close();
    await world.end();
    return { recoveredMs, accepted, note: `${unwilling.received.length} tries`, broken };
  },
};

export const WORKER_FAULTS: readonly Fault[] = [
  killedInJob,
  killedTwiceInJob,
  busyJob,
  poison,
  politeStop,
  receiverDown,
  slowReceiver,
];
