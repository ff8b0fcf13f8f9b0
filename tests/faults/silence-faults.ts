import { setTimeout as sleep } from "node:timers/promises";
import { sha256 } from "../support/invented.js";
import { startApi } from "./calling-api.js";
import type { Fault } from "./fault.js";
import { buildWorld } from "./world.js";

const SENDERS = 8;
/** Longer than a query is waited for. */
const SILENT_MS = 40_000;
/** A query is given up after 30 s; the connection for it may have been waited for before, 10 s at most. */
const ANSWER_MS = 45_000;
const PROBE_MS = 5_000;

/** The server's processes are stopped: connections stay open, new ones are accepted by the system, and nothing is answered. */
const silentPostgres: Fault = {
  name: "PostgreSQL keeps silent for 40 s with connections open, requests coming in",
  limitMs: 60_000,
  async run() {
    const world = await buildWorld();
    await world.startWorker();
    const api = await startApi(world);
    const submit = (key: string) => api.submit(`wait 0 ${key}`, key);
    const broken: string[] = [];
    const before = await submit(sha256("before"));
    if (before.status !== 202) broken.push(`before it was silent a submission was answered ${before.status}`);

    world.postgres.signal("SIGSTOP");
    const silentSince = performance.now();
    const keys = Array.from({ length: SENDERS }, (_, sender) => sha256(`sender ${sender}`));
    const [probe, read, ...refused] = await Promise.all([
      api.get("/readyz"),
      api.get(`/v1/submissions/${before.id}`),
      ...keys.map(submit),
    ]);
    if (probe.status !== 503 || probe.ms > PROBE_MS) broken.push(`readyz said ${probe.status} after ${probe.ms} ms`);
    for (const { status, ms } of [read, ...refused])
      if (status !== 503 || ms > ANSWER_MS) broken.push(`a request was answered ${status} after ${Math.round(ms)} ms`);
    const alive = await api.get("/livez");
    if (alive.status !== 200) broken.push(`livez said ${alive.status}`);
    await sleep(Math.max(0, SILENT_MS - (performance.now() - silentSince)));
    world.postgres.signal("SIGCONT");

    const speaking = performance.now();
    // As the answer asked them to: the same request again.
    const ids = [before.id];
    for (const key of keys) ids.push((await api.submitUntilTaken(`wait 0 ${key}`, key, this.limitMs)).id);
    const states: (string | undefined)[] = [];
    for (const id of ids) states.push((await world.stores.records.waitUntilFinal(id ?? "", this.limitMs))?.state);
    const recoveredMs = performance.now() - speaking;
    if (states.some((state) => state !== "done")) broken.push(`ended as ${states.join(", ")}`);
    const { rows } = await world.stores.pool.query("SELECT count(*)::integer AS kept FROM heatgate.submission");
    if (rows[0].kept !== ids.length) broken.push(`${ids.length} requests became ${rows[0].kept} submissions`);
    const ready = await api.get("/readyz");
    if (ready.status !== 200) broken.push(`readyz said ${ready.status} afterwards`);
    await api.stop();
    await world.end();
    const longest = Math.max(read.ms, ...refused.map(({ ms }) => ms));
    const note = `readyz 503 after ${(probe.ms / 1_000).toFixed(1)} s, requests 503 after ${(longest / 1_000).toFixed(1)} s at most`;
    return { recoveredMs, accepted: ids.length, note, broken };
  },
};

export const SILENCE_FAULTS: readonly Fault[] = [silentPostgres];
