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
 * By how much others may wait longer for their reports, in the 95th percentile, while workers die beside them: a quarter of a second,
 * which nobody sees who waits for a page or a webhook, and what one of a hundred waits on a quiet day at half load (`npm run bench -- latency`).
 */
const OTHERS_LATER_MS = 250;
/** Those few that a dying worker had in hand besides: what is promised of any crash. */
const SLOWEST_MS = 15_000;
/** How long some of them take: long enough to be in hand when a worker dies. */
const NEIGHBOUR_MS = 900;

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
    const calm = await loadAmongNeighbours(world, random, () => sleep(10_000));
    const halves = [calm.quick.slice(0, calm.quick.length / 2), calm.quick.slice(calm.quick.length / 2)];
    const [first, last] = await Promise.all(halves.map((half) => waits(world, half)));

    const poisonous = (await world.submit("die"))!;
    const handedIn = performance.now();
    let isolatedMs = Number.POSITIVE_INFINITY;
    const beside = await loadAmongNeighbours(world, random, async () => {
      await world.stores.records.waitUntilFinal(poisonous, this.limitMs * 2);
      isolatedMs = performance.now() - handedIn;
    });
    running = false;
    const others = world.accepted.filter((id) => id !== poisonous);
    const states = await Promise.all(others.map(async (id) => (await world.stores.records.getSubmission(id))?.state));
    const punished = states.filter((state) => state !== "done").length;
    const { state, failure } = (await world.stores.records.getSubmission(poisonous))!;
    const [without, poisoned] = [await waits(world, calm.quick), await waits(world, beside.quick)];
    const { slowest } = await waits(world, [...beside.quick, ...beside.long]);
    const note =
      `${deaths} workers died, then ${state}: ${failure?.code}; p95 of ${beside.quick.length} others ${poisoned.p95} ms, and ` +
      `${without.p95} ms without it (halves ${first!.p95} and ${last!.p95}); the slowest waited ${slowest} ms`;
    const result = await conclude(world, this.limitMs, note);
    await Promise.all(supervising);
    const broken = failure?.code === "gave-up-after-crashes" ? [] : [`the poisonous document ended as ${state}`];
    if (punished > 0) broken.push(`${punished} of its neighbours were not judged`);
    if (!(poisoned.p95 - without.p95 <= OTHERS_LATER_MS))
      broken.push(`the p95 of others rose by ${poisoned.p95 - without.p95} ms`);
    if (!(slowest <= SLOWEST_MS)) broken.push(`one of the others waited ${slowest} ms`);
    return { ...result, recoveredMs: isolatedMs, broken: [...result.broken, ...broken] };
  },
};

/**
 * Documents that take next to no time, ten a second, and beside them two that take long, again and again, until `time` is over and all
 * are judged. Their ids.
 */
async function loadAmongNeighbours(
  world: World,
  random: () => number,
  time: () => Promise<void>,
): Promise<{ readonly quick: readonly string[]; readonly long: readonly string[] }> {
  const before = world.accepted.length;
  const long: string[] = [];
  let running = true;
  const neighbour = async () => {
    while (running) {
      const id = await world.submit(`wait ${NEIGHBOUR_MS} ${random()}`);
      if (id === undefined) continue;
      long.push(id);
      await world.stores.records.waitUntilFinal(id, SLOWEST_MS);
    }
  };
  const load = startLoad(world, random, 10);
  const neighbours = [neighbour(), neighbour()];
  await time();
  running = false;
  await Promise.all([load.stop(), ...neighbours]);
  await world.settle(60_000);
  return { quick: world.accepted.slice(before).filter((id) => !long.includes(id)), long };
}

/** Milliseconds from acceptance to the final state. */
async function waits(
  { stores }: World,
  ids: readonly string[],
): Promise<{ readonly p95: number; readonly slowest: number }> {
  const { rows } = await stores.pool.query(
    `SELECT round(percentile_cont(0.95) WITHIN GROUP (ORDER BY ms))::integer AS p95, round(max(ms))::integer AS slowest
     FROM (SELECT extract(epoch FROM finished_at - created_at)::double precision * 1000 AS ms
           FROM heatgate.submission WHERE id = ANY ($1)) AS waited`,
    [ids],
  );
  return rows[0];
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
