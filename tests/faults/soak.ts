import { readdirSync } from "node:fs";
import { setTimeout as sleep } from "node:timers/promises";
import type { Child } from "../support/child.js";
import { buildWorld, type World } from "./world.js";

const SHARE_OF_PEAK = 0.7;
const FAULT_EVERY_MS = 30_000;
const SAMPLE_EVERY_MS = 10_000;
/** The first part, in which code is compiled and pools are filled, is not looked at for slopes. */
const WARM_PART = 0.25;

interface Sample {
  readonly atMs: number;
  readonly heapMiB: number;
  readonly handles: number;
  readonly connections: number;
  readonly jobs: number;
  readonly unfinished: number;
  readonly queueRows: number;
}

/** What is looked at, and by how much it may have grown from the first third of the measured part to the last. */
const WATCHED: readonly {
  readonly name: string;
  readonly key: Exclude<keyof Sample, "atMs">;
  readonly mayGrowBy: number;
  /** What piles up while something is broken must be gone in between: of these the least of each minute counts. */
  readonly isBacklog?: true;
}[] = [
  { name: "heap after collection, MiB", key: "heapMiB", mayGrowBy: 2 },
  { name: "open handles", key: "handles", mayGrowBy: 3 },
  { name: "connections to PostgreSQL, all processes", key: "connections", mayGrowBy: 6 },
  { name: "jobs in the queue", key: "jobs", mayGrowBy: 5, isBacklog: true },
  { name: "unfinished submissions", key: "unfinished", mayGrowBy: 5, isBacklog: true },
  // BullMQ keeps its last 10 000 events of each queue and takes older ones away.
  { name: "rows of the queue's other tables, in thousands", key: "queueRows", mayGrowBy: 20 },
];

/** A load of 70 % of the peak measured first, for so long, with a random fault every 30 s. True when nothing was lost and nothing grew. */
export async function soak(forMs: number, random: () => number): Promise<boolean> {
  const world = await buildWorld();
  // Nobody hurts this one; it is the one that is measured.
  const steady = await world.startWorker({ FAULTS_HEAP: "1" });
  const supervised = superviseWorkers(world, 1);
  await sleep(5_000);
  const peak = await measurePeak(world);
  console.log(`peak ${peak.toFixed(0)} a second; load ${(peak * SHARE_OF_PEAK).toFixed(0)} a second`);

  const samples: Sample[] = [];
  const done: string[] = [];
  const started = performance.now();
  const left = () => forMs - (performance.now() - started);
  const hurting = (async () => {
    while (left() > FAULT_EVERY_MS) {
      await sleep(FAULT_EVERY_MS);
      const hurt = HURTS[Math.floor(random() * HURTS.length)]!;
      done.push(hurt.name);
      await hurt.run(world, supervised.current());
    }
  })();
  const sampling = (async () => {
    while (left() > SAMPLE_EVERY_MS) {
      await sleep(SAMPLE_EVERY_MS);
      const sample = await takeSample(world, steady, performance.now() - started).catch(() => undefined);
      if (sample) samples.push(sample);
    }
  })();
  while (left() > 0) {
    const next = sleep(1_000 / (peak * SHARE_OF_PEAK));
    void world.submit(`wait 0 ${random()}`);
    await next;
  }
  await Promise.all([hurting, sampling]);
  const settledMs = await world.settle(180_000);
  const broken = [...(await world.check())];
  const { unfinished, jobs } = await takeSample(world, steady, 0);
  if (unfinished + jobs > 0) broken.push(`${unfinished} submissions and ${jobs} jobs are left`);
  await supervised.stop();
  const { accepted } = world;
  const grown = tell(samples, forMs);
  console.log(
    `\n${done.length} faults (${[...new Set(done)].join(", ")}); ${accepted.length} accepted, ${world.refused()} refused; ` +
      `all told ${(settledMs / 1_000).toFixed(1)} s after the end; lost or wrong: ${broken.length}; grown: ${grown.length}`,
  );
  broken.push(...grown);
  for (const fault of broken.slice(0, 5)) console.error(`    ${fault}`);
  await world.end();
  console.log(broken.length === 0 ? "\nNothing was lost, and nothing grew." : "\nNot held.");
  return broken.length === 0;
}

const HURTS: readonly { readonly name: string; run(world: World, workers: readonly Child[]): Promise<void> }[] = [
  { name: "worker killed", run: async (_, workers) => workers[0]?.kill("SIGKILL") },
  { name: "worker stopped politely", run: async (_, workers) => workers[0]?.kill("SIGTERM") },
  {
    name: "worker frozen for 12 s",
    async run(_, workers) {
      workers[0]?.process.kill("SIGSTOP");
      await sleep(12_000);
      workers[0]?.process.kill("SIGCONT");
    },
  },
  {
    name: "PostgreSQL stopped at once for 1 s",
    async run({ postgres }) {
      postgres.stop("immediate");
      await sleep(1_000);
      await postgres.start();
    },
  },
];

/** So many places for workers, each filled again when its worker is gone. */
function superviseWorkers(world: World, places: number) {
  const current = new Map<number, Child>();
  let running = true;
  const supervise = async (place: number) => {
    while (running) {
      const worker = await world.startWorker().catch(() => undefined);
      if (!worker) continue;
      current.set(place, worker);
      await worker.until(() => false).catch(() => {});
    }
  };
  const all = Array.from({ length: places }, (_, place) => supervise(place));
  return {
    current: () => [...current.values()],
    async stop() {
      running = false;
      for (const worker of current.values()) await worker.kill("SIGKILL");
      await Promise.all(all);
    },
  };
}

/** Submissions a second from the first commit to the last webhook, four senders at once. */
async function measurePeak(world: World): Promise<number> {
  const each = 100;
  const started = performance.now();
  await Promise.all(
    Array.from({ length: 4 }, async (_, sender) => {
      for (let number = 0; number < each; number++) await world.submit(`wait 0 peak ${sender} ${number}`);
    }),
  );
  await world.settle(120_000);
  return (4 * each) / ((performance.now() - started) / 1_000);
}

async function takeSample({ stores }: World, steady: Child, atMs: number): Promise<Sample> {
  const { rows } = await stores.pool.query(
    `SELECT (SELECT count(*)::integer FROM bullmq.job) AS jobs,
            (SELECT count(*)::integer FROM heatgate.submission WHERE state IN ('accepted', 'working')) AS unfinished,
            (SELECT count(*)::float8 / 1000 FROM bullmq.event) AS "queueRows",
            (SELECT count(*)::integer FROM pg_stat_activity WHERE backend_type = 'client backend') AS connections`,
  );
  const heap = steady.lines.findLast((line) => line.startsWith("heap "))?.slice(5);
  const handles = readdirSync(`/proc/${steady.process.pid}/fd`).length;
  return { atMs, heapMiB: Number(heap ?? Number.NaN), handles, ...rows[0] };
}

/** Says what was seen, and answers what grew. */
function tell(samples: readonly Sample[], forMs: number): string[] {
  const warm = samples.filter(({ atMs }) => atMs > forMs * WARM_PART);
  console.log(
    "\n| of the worker that nobody hurt | first third | last third | most | slope an hour | verdict |\n| --- | --- | --- | --- | --- | --- |",
  );
  return WATCHED.flatMap(({ name, key, mayGrowBy, isBacklog }) => {
    const values = (isBacklog ? leastOfEachMinute(warm, key) : warm).map(
      (sample) => [sample.atMs / 3_600_000, sample[key]] as const,
    );
    const third = Math.max(1, Math.floor(values.length / 3));
    const [before, after] = [mean(values.slice(0, third).map(second)), mean(values.slice(-third).map(second))];
    const isFlat = after - before <= mayGrowBy;
    const most = Math.max(...warm.map((sample) => sample[key]));
    const figures = [before, after, most, slope(values)].map((value) => value.toFixed(1)).join(" | ");
    console.log(`| ${name}${isBacklog ? ", least of each minute" : ""} | ${figures} | ${isFlat ? "flat" : "grew"} |`);
    return isFlat ? [] : [`${name} grew by ${(after - before).toFixed(1)}, and may by ${mayGrowBy}`];
  });
}

function leastOfEachMinute(samples: readonly Sample[], key: keyof Sample): Sample[] {
  const least = new Map<number, Sample>();
  for (const sample of samples) {
    const minute = Math.floor(sample.atMs / 60_000);
    const known = least.get(minute);
    if (!known || sample[key] < known[key]) least.set(minute, sample);
  }
  return [...least.values()];
}

const second = ([, value]: readonly [number, number]) => value;
const mean = (numbers: readonly number[]) => numbers.reduce((sum, number) => sum + number, 0) / numbers.length;

/** Least squares, about the means. */
function slope(points: readonly (readonly [hours: number, value: number])[]): number {
  const [hours, value] = [mean(points.map(([at]) => at)), mean(points.map(second))];
  const above = points.reduce((sum, [at, of]) => sum + (at - hours) * (of - value), 0);
  return above / points.reduce((sum, [at]) => sum + (at - hours) ** 2, 0);
}
