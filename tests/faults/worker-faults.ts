import { setTimeout as sleep } from "node:timers/promises";
import { startReceiver } from "../support/receiver.js";
import { conclude, type Fault, startLoad } from "./fault.js";
import { buildWorld } from "./world.js";

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

const poison: Fault = {
  name: "a document that kills every worker that reads it",
  limitMs: 75_000,
  async run(random) {
    const world = await buildWorld();
    const poisonous = (await world.submit("die"))!;
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
    const load = startLoad(world, random, 20);
    // Neighbours that take long enough to be in the dying process.
    for (let number = 0; number < 8; number++) await world.submit(`wait 900 neighbour ${number}`);
    await sleep(2_000);
    await load.stop();
    const isolatedMs = await world.settle(this.limitMs);
    running = false;
    const others = world.accepted.filter((id) => id !== poisonous);
    const states = await Promise.all(others.map(async (id) => (await world.stores.records.getSubmission(id))?.state));
    const punished = states.filter((state) => state !== "done").length;
    const { state, failure } = (await world.stores.records.getSubmission(poisonous))!;
    const result = await conclude(world, this.limitMs, `${deaths} workers died, then ${state}: ${failure?.code}`);
    await Promise.all(supervising);
    const broken = failure?.code === "gave-up-after-crashes" ? [] : [`the poisonous document ended as ${state}`];
    if (punished > 0) broken.push(`${punished} of its neighbours were not judged`);
    return { ...result, recoveredMs: isolatedMs, broken: [...result.broken, ...broken] };
  },
};

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

export const WORKER_FAULTS: readonly Fault[] = [killedInJob, poison, politeStop, receiverDown, slowReceiver];
