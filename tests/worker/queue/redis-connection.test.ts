import { execFileSync } from "node:child_process";
import { chmodSync, readFileSync, writeFileSync } from "node:fs";
import { type AddressInfo, connect, createServer, type Socket } from "node:net";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { Redis } from "ioredis";
import { afterEach, expect, test, vi } from "vitest";
import type { RedisAddress } from "../../../worker/queue/redis-connection.js";
import { openRedisQueue } from "../../../worker/queue/redis-queue.js";
import { checkRedis } from "../../../worker/store/self-check.js";
import { temporaryFolder } from "../../support/invented.js";
import { startRedis, type TestRedis } from "../../support/redis.js";

const servers: TestRedis[] = [];
afterEach(async () => {
  await Promise.all(servers.splice(0).map((server) => server.remove()));
});

async function start(...settings: string[]): Promise<TestRedis> {
  const server = await startRedis(...settings);
  servers.push(server);
  return server;
}

const portOf = ({ url }: TestRedis) => Number(new URL(url).port);
const at = (server: TestRedis) => ({ host: "127.0.0.1", port: portOf(server) });

/** The self-check passes, a job goes in, is counted and is performed. */
async function expectWork(address: RedisAddress): Promise<void> {
  await checkRedis(address);
  const queue = await openRedisQueue(address);
  await queue.check();
  const performed = await new Promise<string>((resolve) => {
    const running = queue.work("judge", 1, async (subject) => {
      setImmediate(() => void running.close().then(() => resolve(subject)));
      return undefined;
    });
    void queue.addAgain([{ queue: "judge", subject: "a" }]);
  });
  expect(performed).toBe("a");
  expect(await queue.countJobs("judge")).toBe(0);
  await queue.close();
}

test("one server with a password from a file's text", async () => {
  const server = await start("--requirepass", "s3cret with spaces");
  await expectWork({ url: server.url, password: "s3cret with spaces" });
});

test("Sentinels name the master, and after a failover the new one is worked on", async () => {
  const master = await start();
  const replica = await start("--replicaof", "127.0.0.1", String(portOf(master)));
  const folder = await temporaryFolder();
  const config = join(folder.path, "sentinel.conf");
  writeFileSync(
    config,
    `sentinel monitor plant 127.0.0.1 ${portOf(master)} 1\nsentinel down-after-milliseconds plant 500\n`,
  );
  chmodSync(config, 0o600);
  const sentinel = await start("--sentinel", config);
  const address = { sentinels: [at(sentinel)], sentinelName: "plant" };
  await expectWork(address);

  const asked = new Redis(sentinel.url);
  // A replica must have been seen before it can take over.
  while (((await asked.call("SENTINEL", "replicas", "plant")) as unknown[]).length === 0) await sleep(100);
  while ((await asked.call("SENTINEL", "failover", "plant").catch(() => "not yet")) !== "OK") await sleep(200);
  const nameOf = async () => ((await asked.call("SENTINEL", "get-master-addr-by-name", "plant")) as string[])[1];
  while ((await nameOf()) !== String(portOf(replica))) await sleep(100);
  asked.disconnect();
  await expectWork(address);
  // A Sentinel writes into its file as long as it lives.
  await sentinel.kill();
  await folder.remove();
});

test("a Cluster of three masters keeps each queue on one of them", async () => {
  const nodes = [];
  for (let node = 0; node < 3; node++) nodes.push(await start("--cluster-enabled", "yes"));
  execFileSync("redis-cli", [
    "--cluster",
    "create",
    ...nodes.map((node) => `127.0.0.1:${portOf(node)}`),
    "--cluster-yes",
  ]);
  await expectWork({ clusterNodes: nodes.map(at) });
});

test("connections that went silent without being closed are made anew, and work goes on", async () => {
  const server = await start();
  const between = await startSilencer(portOf(server));
  const worker = await openRedisQueue({ url: `redis://127.0.0.1:${between.port}` });
  const direct = await openRedisQueue({ url: server.url });
  const performed: string[] = [];
  const running = worker.work("judge", 1, async (subject) => void performed.push(subject));
  await direct.addAgain([{ queue: "judge", subject: "before" }]);
  await vi.waitFor(() => expect(performed).toEqual(["before"]), 10_000);
  between.silence();
  await expect(worker.check()).rejects.toThrow();
  await direct.addAgain([{ queue: "judge", subject: "after" }]);
  await vi.waitFor(() => expect(performed).toContain("after"), 40_000);
  await expect(worker.check()).resolves.toBeUndefined();
  await running.close();
  await Promise.all([worker.close(), direct.close()]);
  between.close();
}, 60_000);

/** Passes bytes on to a port until told to keep silent; connections made after that are passed on again. */
async function startSilencer(to: number) {
  const pairs = new Set<readonly [Socket, Socket]>();
  const server = createServer((near) => {
    const far = connect(to, "127.0.0.1");
    pairs.add([near, far]);
    for (const [from, into] of [
      [near, far],
      [far, near],
    ] as const) {
      from.pipe(into);
      from.on("error", () => {});
    }
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    port: (server.address() as AddressInfo).port,
    silence() {
      for (const [near, far] of pairs) {
        near.unpipe(far).resume();
        far.unpipe(near).resume();
      }
    },
    close() {
      server.close();
      for (const pair of pairs) for (const socket of pair) socket.destroy();
    },
  };
}

test("TLS with an authority of its own; another authority is refused", async () => {
  const folder = await temporaryFolder();
  const file = (name: string) => join(folder.path, name);
  const make = (name: string) =>
    execFileSync(
      "openssl",
      ["req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=localhost"].concat([
        "-addext",
        "subjectAltName=DNS:localhost,IP:127.0.0.1",
        "-keyout",
        file(`${name}.key`),
        "-out",
        file(`${name}.crt`),
      ]),
      { stdio: "ignore" },
    );
  make("server");
  make("stranger");
  const tlsPort = 41_000 + Math.floor(Math.random() * 9_000);
  const tls = [
    "--tls-port",
    String(tlsPort),
    "--tls-cert-file",
    file("server.crt"),
    "--tls-key-file",
    file("server.key"),
  ];
  await start(...tls, "--tls-ca-cert-file", file("server.crt"), "--tls-auth-clients", "no");
  const url = `rediss://127.0.0.1:${tlsPort}`;
  await expectWork({ url, certificateAuthority: readFileSync(file("server.crt"), "utf8") });
  const wrong = openRedisQueue({ url, certificateAuthority: readFileSync(file("stranger.crt"), "utf8") });
  await expect(wrong).rejects.toThrow();
  await folder.remove();
});
