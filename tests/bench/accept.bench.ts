/**
 * The way to 202 against a bare Express route that stores the same body, on one PostgreSQL with fsync on. Requests come from a process
 * of their own, to both in turn. Nobody works the jobs off meanwhile: this is about taking in.
 *
 * Heatgate: the whole app with its keys, limits and log, no Idempotency-Key, no callback, every body a new one.
 * The bare route: reads the body into memory, writes it to a file, flushes the file and its folder (a name that is not flushed is gone
 * after a power cut), and commits one row with id, name and size. No key, no limits, no checksum, no job, nothing to find it by.
 */
import { type ChildProcess, fork } from "node:child_process";
import { randomUUID } from "node:crypto";
import { mkdir, open } from "node:fs/promises";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import express from "express";
import { pino } from "pino";
import { Registry } from "prom-client";
import { createApp } from "../../api/app.js";
import { FACES } from "../../api/faces.js";
import { storeDeps } from "../../api/store-deps.js";
import { openKeys } from "../../worker/store/sql-keys.js";
import { buildWorld } from "../faults/world.js";
import type { Asked, Sent } from "./send-bodies.js";

const ROUNDS = 6;
const REQUESTS = 80;
const BODY_BYTES = 8_000;

const world = await buildWorld();
const folder = world.environment.HEATGATE_DATA;
const { key } = await openKeys(world.stores.pool).create({ client: "bench", name: "a", scopes: ["submit"] }, "bench");
const heatgate = await serve(await wholeApp());
const bare = await serve(await bareRoute());
const sender = fork(new URL("./send-bodies.ts", import.meta.url), { execArgv: ["--import", "tsx"] });
const headers = { Authorization: `Bearer ${key}`, "Content-Type": "text/csv" };
const paths = { heatgate: `${heatgate.url}/v1/submissions?name=a.csv`, bare: `${bare.url}/` };

await send(sender, { url: paths.heatgate, headers, requests: 40, atOnce: 4, bytes: BODY_BYTES });
await send(sender, { url: paths.bare, headers, requests: 40, atOnce: 4, bytes: BODY_BYTES });
for (const atOnce of [1, 8]) {
  const times = { heatgate: [] as number[], bare: [] as number[] };
  for (let round = 0; round < ROUNDS; round++) {
    for (const side of round % 2 ? (["heatgate", "bare"] as const) : (["bare", "heatgate"] as const)) {
      const asked = { url: paths[side], headers, requests: REQUESTS, atOnce, bytes: BODY_BYTES };
      times[side].push(...(await send(sender, asked)).milliseconds);
    }
  }
  const [ours, theirs] = [summary(times.heatgate), summary(times.bare)];
  console.log(
    `${atOnce} at once: 202 in ${tell(ours)}; bare route ${tell(theirs)}; ` +
      `ratio ${(ours.p50 / theirs.p50).toFixed(2)} (p50), ${(ours.mean / theirs.mean).toFixed(2)} (mean)`,
  );
}

sender.kill();
await Promise.all([heatgate.close(), bare.close()]);
await world.end();

async function wholeApp() {
  const uploadFolder = join(folder, "uploads");
  await mkdir(uploadFolder, { recursive: true });
  return createApp({
    ...storeDeps(world.stores),
    eraseBytes: async () => {},
    library: { grades: [], tolerances: [] },
    libraryDigest: "library",
    publicUrl: "http://heatgate.example",
    logger: pino({ level: "info" }, pino.destination("/dev/null")),
    registry: new Registry(),
    uploadFolder,
    limits: { documentBytes: 25_000_000, submissionBytes: 100_000_000, documents: 50 },
    rates: { requestsPerMinute: 1_000_000, bytesPerMinute: 1e12 },
    backlog: 1_000_000,
    callbackProblem: () => undefined,
    faces: FACES,
  });
}

async function bareRoute() {
  const kept = join(folder, "bare");
  await mkdir(kept);
  await world.stores.pool.query(
    "CREATE TABLE public.bare (id uuid PRIMARY KEY, name text NOT NULL, bytes integer NOT NULL)",
  );
  return express().post("/", express.raw({ limit: "25mb", type: () => true }), async (request, response) => {
    const id = randomUUID();
    const file = await open(join(kept, id), "wx");
    await file.write(request.body);
    await file.sync();
    await file.close();
    const names = await open(kept);
    await names.sync();
    await names.close();
    await world.stores.pool.query("INSERT INTO public.bare VALUES ($1, $2, $3)", [id, "a.csv", request.body.length]);
    response.status(202).json({ id });
  });
}

async function serve(app: express.Express) {
  const server: Server = createServer(app);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    close: () => new Promise<void>((resolve) => void server.close(() => resolve())),
  };
}

function send(child: ChildProcess, asked: Asked): Promise<Sent> {
  return new Promise((resolve) => {
    child.once("message", (sent) => resolve(sent as Sent));
    child.send(asked);
  });
}

function summary(times: readonly number[]) {
  const sorted = [...times].sort((left, right) => left - right);
  const at = (share: number) => sorted[Math.floor(sorted.length * share)]!;
  return { p50: at(0.5), p95: at(0.95), mean: sorted.reduce((sum, time) => sum + time, 0) / sorted.length };
}

function tell({ p50, p95 }: { readonly p50: number; readonly p95: number }): string {
  return `${p50.toFixed(1)} ms (p50), ${p95.toFixed(1)} ms (p95)`;
}
