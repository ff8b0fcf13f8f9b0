import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";

export interface TestRedis {
  readonly url: string;
  readonly folder: string;
  start(): Promise<void>;
  signal(signal: NodeJS.Signals): void;
  /** Resolves when the server is gone. */
  kill(): Promise<void>;
  remove(): Promise<void>;
}

/** A Redis server of its own in a temporary folder, on a port that stays the same over restarts. */
export async function startRedis(...settings: string[]): Promise<TestRedis> {
  const folder = mkdtempSync(join(tmpdir(), "heatgate-redis-"));
  const port = 20_000 + Math.floor(Math.random() * 20_000);
  let server: ChildProcess | undefined;

  const redis: TestRedis = {
    url: `redis://127.0.0.1:${port}`,
    folder,
    async start() {
      server = spawn("redis-server", argumentsOf(port, folder, settings), { stdio: "ignore" });
      server.on("error", () => {});
      for (let tries = 0; !(await answers(port)); tries++) {
        if (tries === 200) throw new Error("Redis did not start; these tests need it: apt-get install redis-server");
        await sleep(25);
      }
    },
    signal(signal) {
      server?.kill(signal);
    },
    async kill() {
      if (!server || server.exitCode !== null || server.signalCode !== null) return;
      const gone = new Promise((resolve) => server!.once("exit", resolve));
      server.kill("SIGKILL");
      await gone;
    },
    async remove() {
      process.off("exit", killNow);
      await this.kill();
      rmSync(folder, { recursive: true, force: true });
    },
  };
  // A test that is cut short must not leave a server behind.
  process.once("exit", killNow);
  await redis.start();
  return redis;

  function killNow(): void {
    server?.kill("SIGKILL");
  }
}

/** A Sentinel takes its file first, and knows nothing of saving. */
function argumentsOf(port: number, folder: string, settings: readonly string[]): string[] {
  const place = ["--port", String(port), "--bind", "127.0.0.1", "--dir", folder];
  if (settings[0] === "--sentinel") return [settings[1]!, "--sentinel", ...place];
  return [...place, "--save", "", ...settings];
}

function answers(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1", () => socket.write("PING\r\n"));
    socket.once("data", (data) => {
      socket.destroy();
      resolve(/^([+]PONG|-NOAUTH)/.test(data.toString()));
    });
    socket.once("error", () => resolve(false));
  });
}
