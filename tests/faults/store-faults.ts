import { rmSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { QUEUE_HAS_LOST } from "../../worker/jobs/start-sweeping.js";
import type { Child } from "../support/child.js";
import { temporaryFolder } from "../support/invented.js";
import { startApi } from "./calling-api.js";
import { fillDisk, mountDisk } from "./disk.js";
import { conclude, type Fault, type FaultResult, startLoad } from "./fault.js";
import { buildWorld, type World } from "./world.js";

const postgresCrash: Fault = {
  name: "PostgreSQL stops at once under load, for 2 s",
  limitMs: 20_000,
  quick: true,
  async run(random) {
    const world = await buildWorld();
    await world.startWorker();
    await world.startWorker();
    const load = startLoad(world, random);
    await sleep(1_000 + random() * 1_000);
    world.postgres.stop("immediate");
    await sleep(2_000);
    await world.postgres.start();
    const firstMs = Math.round(await world.settleOne(this.limitMs));
    await load.stop();
    return conclude(world, this.limitMs, `next one judged after ${firstMs} ms`);
  },
};

function redisFault(
  name: string,
  limitMs: number,
  settings: readonly string[],
  hurt: (world: World) => Promise<string>,
): Fault {
  return {
    name,
    limitMs,
    async run(random): Promise<FaultResult> {
      const world = await buildWorld({ redis: settings });
      await world.startWorker();
      await world.startWorker();
      const load = startLoad(world, random);
      for (let number = 0; number < 30; number++) await world.submit(`wait 300 ${number}`);
      await sleep(500 + random() * 500);
      const note = await hurt(world);
      await sleep(500);
      await load.stop();
      return conclude(world, limitMs, note);
    },
  };
}

const killFor2s = async ({ redis }: World) => {
  await redis!.kill();
  await sleep(2_000);
  await redis!.start();
  return "killed for 2 s";
};

const redisKilledKeepingFile = redisFault(
  "Redis killed under load, append-only file each second",
  60_000,
  ["--appendonly", "yes", "--appendfsync", "everysec"],
  killFor2s,
);
const redisKilledKeepingNothing = redisFault(
  "Redis killed under load, keeping nothing",
  60_000,
  ["--appendonly", "no"],
  killFor2s,
);

const redisKilledKeepingEach = redisFault(
  "Redis killed under load, append-only file at each write",
  60_000,
  ["--appendonly", "yes", "--appendfsync", "always"],
  killFor2s,
);

/** Two workers may have taken so many up already. */
const FEW = 10;

const redisFlushed: Fault = {
  name: "Redis FLUSHALL under load",
  limitMs: 60_000,
  quick: true,
  async run(random) {
    const world = await buildWorld({ redis: ["--appendonly", "no"] });
    const workers = [await startTalkingWorker(world), await startTalkingWorker(world)];
    const load = startLoad(world, random);
    // More than the workers get through until the sweep looks.
    await Promise.all(Array.from({ length: 30 }, (_, number) => world.submit(`wait 800 ${number}`)));
    const waiting = await world.stores.records.countBacklog();
    const { Redis } = await import("ioredis");
    const client = new Redis(world.redis!.url);
    await client.flushall();
    client.disconnect();
    await sleep(500);
    await load.stop();
    const note = `everything in Redis forgotten, some ${waiting.accepted} jobs among it`;
    const result = await conclude(world, this.limitMs, note);
    const isWarned = workers.some((worker) => logLines(worker).some(({ msg }) => msg === QUEUE_HAS_LOST));
    return isWarned || waiting.accepted < FEW
      ? result
      : { ...result, broken: [...result.broken, "nobody was warned that the queue had lost jobs"] };
  },
};

const redisPaused = redisFault(
  "Redis answers nothing for 12 s, longer than a lock",
  60_000,
  ["--appendonly", "yes"],
  async (world) => {
    world.redis!.signal("SIGSTOP");
    const notReady = await world.stores.queue.check().then(
      () => "ready all the time, which is wrong",
      () => "not ready meanwhile",
    );
    await sleep(12_000);
    world.redis!.signal("SIGCONT");
    return notReady;
  },
);

const FULL_MS = 8_000;
/** Of one kind a worker says at most one line in so long. */
const LINE_EVERY_MS = 10_000;

const redisDiskFull: Fault = {
  name: "disk of Redis is full for 8 s under load",
  limitMs: 60_000,
  async run(random) {
    const folder = await temporaryFolder();
    const unmount = mountDisk(folder.path, "4m");
    const world = await buildWorld({
      redis: ["--dir", folder.path, "--appendonly", "yes", "--appendfsync", "everysec"],
    });
    const api = await startApi(world);
    const workers = [await startTalkingWorker(world), await startTalkingWorker(world)];
    const load = startLoad(world, random);
    for (let number = 0; number < 30; number++) await world.submit(`wait 300 ${number}`);
    const filler = join(folder.path, "filler");
    fillDisk(filler);
    await sleep(FULL_MS / 2);
    const broken: string[] = [];
    // The records take it, and the sweep brings it to the queue.
    const { status, id = "", ms } = await api.submit("wait 0 while it is full", "while it is full");
    if (status !== 202) broken.push(`handing in was answered ${status}`);
    const state = await world.stores.queue.check().then(
      () => "ready all the time, which is wrong",
      (error: Error) => `not ready meanwhile: ${error.message.split(" ", 1)[0]}`,
    );
    await sleep(FULL_MS / 2);
    rmSync(filler);
    await sleep(500);
    await load.stop();
    const handedIn = await world.stores.records.waitUntilFinal(id, this.limitMs);
    if (handedIn?.state !== "done") broken.push(`what was handed in meanwhile is ${handedIn?.state}`);
    const said = workers.flatMap(saidTooOften);
    broken.push(...said);
    const lines = workers.map((worker) => logLines(worker).length).join(" and ");
    const note = `${state}; handing in answered ${status} after ${Math.round(ms)} ms; the workers said ${lines} lines`;
    await api.stop();
    const result = await conclude(world, this.limitMs, note);
    unmount();
    await folder.remove();
    return { ...result, broken: [...result.broken, ...broken] };
  },
};

const startTalkingWorker = (world: World) => world.startWorker({ HEATGATE_LOG_LEVEL: "warn" });

interface LogLine {
  readonly time: number;
  readonly msg: string;
  readonly queue?: string;
  readonly err?: unknown;
}

const logLines = ({ lines }: Child): LogLine[] =>
  lines.filter((line) => line.startsWith("{")).map((line) => JSON.parse(line));

/** Errors that a worker told of again before its time. What it says of a job taken over is one line for each. */
function saidTooOften(worker: Child): string[] {
  const last = new Map<string, number>();
  return logLines(worker).flatMap(({ time, msg, queue = "", err }) => {
    if (!err) return [];
    const kind = `${queue} ${msg}`;
    const since = time - (last.get(kind) ?? Number.NEGATIVE_INFINITY);
    last.set(kind, time);
    return since < LINE_EVERY_MS * 0.99 ? [`a worker said "${kind}" again after ${since} ms`] : [];
  });
}

export const STORE_FAULTS: readonly Fault[] = [
  postgresCrash,
  redisKilledKeepingFile,
  redisKilledKeepingEach,
  redisKilledKeepingNothing,
  redisFlushed,
  redisPaused,
  redisDiskFull,
];
