import { execFileSync } from "node:child_process";
import { closeSync, openSync, rmSync, writeSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { temporaryFolder } from "../support/invented.js";
import { conclude, type Fault, type FaultResult, startLoad } from "./fault.js";
import { buildWorld, type World } from "./world.js";

const postgresCrash: Fault = {
  name: "PostgreSQL stops at once under load, for 2 s",
  limitMs: 30_000,
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

const redisFlushed: Fault = {
  ...redisFault("Redis FLUSHALL under load", 60_000, ["--appendonly", "no"], async (world) => {
    const { Redis } = await import("ioredis");
    const client = new Redis(world.redis!.url);
    await client.flushall();
    client.disconnect();
    return "everything in Redis forgotten";
  }),
  quick: true,
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

const redisDiskFull: Fault = {
  name: "disk of Redis is full for 8 s under load",
  limitMs: 60_000,
  async run(random) {
    const folder = await temporaryFolder();
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=4m", "tmpfs", folder.path]);
    try {
      const onDisk = ["--dir", folder.path, "--appendonly", "yes", "--appendfsync", "everysec"];
      const fault = redisFault(this.name, this.limitMs, onDisk, async (world) => {
        const filler = join(folder.path, "filler");
        fillDisk(filler);
        await sleep(8_000);
        const notReady = await world.stores.queue.check().then(
          () => "ready all the time, which is wrong",
          (error: Error) => `not ready meanwhile: ${error.message.split(" ", 1)[0]}`,
        );
        rmSync(filler);
        return notReady;
      });
      return await fault.run(random);
    } finally {
      execFileSync("umount", ["--lazy", folder.path]);
      await folder.remove();
    }
  },
};

function fillDisk(path: string): void {
  const file = openSync(path, "w");
  try {
    for (;;) writeSync(file, Buffer.alloc(4_096));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOSPC") throw error;
  } finally {
    closeSync(file);
  }
}

export const STORE_FAULTS: readonly Fault[] = [
  postgresCrash,
  redisKilledKeepingFile,
  redisKilledKeepingNothing,
  redisFlushed,
  redisPaused,
  redisDiskFull,
];
