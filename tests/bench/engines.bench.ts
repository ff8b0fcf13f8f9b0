/**
 * The three engines side by side, with nothing to read or judge: submissions a second from the first commit to the last final
 * state, and how long one alone takes. Then workers of one, two and four processes on PostgreSQL with documents that take 200 ms of
 * waiting each, which is what can be scaled on any machine.
 */

import { openEmbedded } from "../../worker/store/open-embedded.js";
import type { Stores } from "../../worker/store/stores.js";
import { buildWorld } from "../faults/world.js";
import { embeddedFolder } from "../support/embedded-folder.js";
import { namingVerifier, newSubmission, storeDocument } from "../support/invented.js";
import { startTestWorker } from "../support/running-worker.js";

const MANY = 300;
const ALONE = 40;

const folder = await embeddedFolder();
const stores = await openEmbedded(folder.path, "https://heatgate.example");
const worker = await startTestWorker(stores, namingVerifier());
const embedded = await measure(stores, folder.path);
await worker.stop();
await stores.close();
await folder.remove();
tell("embedded (PGlite)", embedded, embedded);
for (const [name, redis] of [
  ["server (PostgreSQL)"],
  ["scaled (PostgreSQL and Redis)", ["--appendonly", "yes"]],
] as const) {
  const world = await buildWorld(redis ? { redis } : {});
  await world.startWorker();
  tell(name, await measure(world.stores, world.environment.HEATGATE_DATA), embedded);
  await world.end();
}

let single = 0;
for (const workers of [1, 2, 4]) {
  const world = await buildWorld();
  for (let number = 0; number < workers; number++) await world.startWorker();
  await Promise.all(Array.from({ length: 4 }, () => world.submit(`wait 0 ${Math.random()}`)));
  await world.settle(20_000);
  const started = performance.now();
  for (let number = 0; number < MANY; number++) await world.submit(`wait 200 ${number}`);
  const handedIn = performance.now() - started;
  await world.settle(120_000);
  const perSecond = MANY / ((performance.now() - started) / 1_000);
  single ||= perSecond;
  const ratio = (perSecond / single).toFixed(2);
  console.log(
    `${workers} workers of 4 at once: ${perSecond.toFixed(0)} a second, ${ratio} x one (handed in for ${(handedIn / 1_000).toFixed(1)} s)`,
  );
  await world.end();
}

interface Measured {
  readonly perSecond: number;
  readonly p50: number;
  readonly p95: number;
}

async function measure({ records, documents }: Stores, data: string): Promise<Measured> {
  const submit = async (text: string) =>
    (await records.createSubmission(newSubmission([await storeDocument(documents, data, text)]))).id;
  await records.waitUntilFinal(await submit("wait 0 warm"), 10_000);
  const times: number[] = [];
  for (let number = 0; number < ALONE; number++) {
    const started = performance.now();
    await records.waitUntilFinal(await submit(`wait 0 alone ${number}`), 10_000);
    times.push(performance.now() - started);
  }
  times.sort((left, right) => left - right);
  const started = performance.now();
  const ids: string[] = [];
  for (let number = 0; number < MANY; number++) ids.push(await submit(`wait 0 many ${number}`));
  for (const id of ids) await records.waitUntilFinal(id, 60_000);
  return {
    perSecond: MANY / ((performance.now() - started) / 1_000),
    p50: times[Math.floor(ALONE * 0.5)]!,
    p95: times[Math.floor(ALONE * 0.95)]!,
  };
}

function tell(name: string, measured: Measured, base: Measured): void {
  const { perSecond, p50, p95 } = measured;
  const ratio = (perSecond / base.perSecond).toFixed(2);
  console.log(
    `${name}: ${perSecond.toFixed(0)} a second (${ratio} x embedded); alone p50 ${p50.toFixed(0)} ms, p95 ${p95.toFixed(0)} ms`,
  );
}
