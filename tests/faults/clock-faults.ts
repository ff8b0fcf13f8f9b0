import { setTimeout as sleep } from "node:timers/promises";
import { RETRY_WAITS_MS } from "../../worker/webhooks/retry-schedule.js";
import { startReceiver } from "../support/receiver.js";
import { conclude, type Fault, startLoad } from "./fault.js";
import { buildWorld, type World } from "./world.js";

const HOUR_MS = 3_600_000;

function clockJump(direction: 1 | -1): Fault {
  return {
    name: `clock of one of two workers jumps an hour ${direction > 0 ? "ahead" : "back"} under load, and back again after 6 s`,
    limitMs: 60_000,
    async run(random) {
      const world = await buildWorld();
      const jumping = await world.startWorker();
      await world.startWorker();
      const tries = new Map<string, number>();
      const unwilling = await startReceiver((response, count) => {
        const id = String(unwilling.received[count - 1]?.headers["webhook-id"]);
        tries.set(id, (tries.get(id) ?? 0) + 1);
        response.writeHead(tries.get(id) === 1 ? 503 : 204).end();
      });
      const load = startLoad(world, random);
      await sleep(1_000);
      await world.shiftClock(jumping, direction * HOUR_MS);
      // Longer than a lock, and long enough for a neighbour to take it for stalled more often than it may start.
      for (let number = 0; number < 3; number++) await world.submit(`wait 12000 ${number}`);
      for (let number = 0; number < 12; number++) await world.submit(`later ${number}`);
      for (let number = 0; number < 10; number++) await world.submit(`wait 0 refused ${number}`, unwilling.url);
      await sleep(6_000);
      await load.stop();
      await world.shiftClock(jumping, 0);
      const recoveredMs = await world.settle(this.limitMs * 2);
      const broken = [...(await world.check(unwilling.received))];
      const { rows } = await world.stores.pool.query(
        "SELECT count(*)::integer AS failed FROM heatgate.submission WHERE state = 'failed'",
      );
      if (rows[0].failed > 0) broken.push(`${rows[0].failed} were given up although nothing was wrong with them`);
      const accepted = world.accepted.length;
      await unwilling.close();
      await world.end();
      const putOff = jumping.lines.filter((line) => line === "put off").length;
      const note = `${unwilling.received.length} tries at 10 that were refused once; put off a job ${putOff} times`;
      return { recoveredMs, accepted, note, broken };
    },
  };
}

/** Workers die meanwhile, and leave locks behind whose time is the database's. */
function databaseClockJump(direction: 1 | -1): Fault {
  return {
    name: `clock of PostgreSQL jumps an hour ${direction > 0 ? "ahead" : "back"} under load, and back again after 6 s`,
    limitMs: 75_000,
    async run(random) {
      const world = await buildWorld({ clock: true });
      const victims = [await world.startWorker(), await world.startWorker()];
      await world.startWorker();
      const hoursOff = async () => {
        const { rows } = await world.stores.pool.query("SELECT extract(epoch FROM clock_timestamp())::float8 AS now");
        return (rows[0].now * 1_000 - Date.now()) / HOUR_MS;
      };
      const load = startLoad(world, random);
      const broken: string[] = [];
      for (const off of [direction * HOUR_MS, 0]) {
        for (let number = 0; number < 8; number++) await world.submit(`wait 3000 ${number} ${off}`);
        await sleep(1_000);
        world.postgres.setClock(off);
        let seen = Number.NaN;
        for (let looks = 0; looks < 20 && !(Math.abs(seen - off / HOUR_MS) <= 0.1); looks++) {
          await sleep(500);
          seen = await hoursOff();
        }
        if (!(Math.abs(seen - off / HOUR_MS) <= 0.1)) broken.push(`the clock of PostgreSQL was ${seen} h off instead`);
        await victims.pop()!.kill("SIGKILL");
        if (off !== 0) await sleep(3_500);
      }
      await load.stop();
      const result = await conclude(world, this.limitMs, "2 of 3 workers killed meanwhile");
      return { ...result, broken: [...broken, ...result.broken] };
    },
  };
}

const DAY_MS = 24 * HOUR_MS;
const TOLD = 10;

const receiverDownForADay: Fault = {
  name: "receiver is down for a day (a clock that is moved from try to try), then up",
  limitMs: 20_000,
  quick: true,
  async run() {
    const world = await buildWorld();
    let isUp = false;
    const down = await startReceiver((response) => void response.writeHead(isUp ? 204 : 503).end());
    const worker = await world.startWorker();
    for (let number = 0; number < TOLD; number++) await world.submit(`wait 0 ${number}`, down.url);
    const broken: string[] = [];
    let passedMs = 0;
    for (let tries = 1; !isUp; tries++) {
      await untilTried(world, tries);
      // The longest that jitter makes of the next wait.
      const wait = RETRY_WAITS_MS[tries - 1]! * 1.2;
      passedMs += wait;
      isUp = passedMs > DAY_MS;
      await passTime(world, wait);
      await world.shiftClock(worker, passedMs);
    }
    const triesWhileDown = down.received.length;
    const recoveredMs = await world.settle(this.limitMs * 2);
    broken.push(...(await world.check(down.received)));
    const taken = down.received.slice(triesWhileDown).map(({ body }) => JSON.parse(body).data.submission);
    if (taken.length !== TOLD || new Set(taken).size !== TOLD) broken.push(`${taken.length} were taken of ${TOLD}`);
    // Whoever sorts what came by its number has the order in which it happened.
    const feed = await world.stores.records.listEvents(undefined, 0, 100);
    const sorted = down.received
      .slice(triesWhileDown)
      .map(({ body }) => JSON.parse(body))
      .sort((left, right) => left.sequence - right.sequence)
      .map(({ data }) => data.submission);
    if (sorted.join() !== feed.map(({ submission }) => submission).join()) broken.push("numbers are out of order");
    await down.close();
    await world.end();
    const note = `${triesWhileDown} tries in ${(passedMs / HOUR_MS).toFixed(1)} h, then ${taken.length} taken`;
    return { recoveredMs, accepted: TOLD, note, broken };
  },
};

async function untilTried({ stores }: World, tries: number): Promise<void> {
  for (let looks = 0; looks < 600; looks++) {
    const { rows } = await stores.pool.query(
      "SELECT count(*)::integer AS tried FROM heatgate.delivery WHERE tries >= $1",
      [tries],
    );
    if (rows[0].tried === TOLD) return;
    await sleep(50);
  }
  throw new Error(`Not everything was tried ${tries} times within 30 s.`);
}

/** What lies ahead comes so much nearer, which is what time does; and who waits for it wakes up. */
async function passTime({ stores }: World, ms: number): Promise<void> {
  await stores.pool.query(
    "UPDATE heatgate.delivery SET next_attempt_at = next_attempt_at - $1::double precision * interval '1 millisecond'",
    [ms],
  );
  await stores.pool.query("UPDATE bullmq.job SET process_at_ms = process_at_ms - $1 WHERE state = 'delayed'", [
    Math.round(ms),
  ]);
  await stores.pool.query("SELECT pg_notify('bullmq_jobs', 'deliver')");
}

export const CLOCK_FAULTS: readonly Fault[] = [
  clockJump(1),
  clockJump(-1),
  databaseClockJump(1),
  databaseClockJump(-1),
  receiverDownForADay,
];
