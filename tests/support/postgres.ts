import { execFileSync, spawn } from "node:child_process";
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir, userInfo } from "node:os";
import { join } from "node:path";

export interface TestPostgres {
  readonly url: string;
  readonly folder: string;
  start(): Promise<void>;
  /** fast: as an operator stops it. immediate: as a crash; what was not flushed is replayed or lost. */
  stop(mode: "fast" | "immediate"): void;
  remove(): Promise<void>;
}

/**
 * A PostgreSQL server of its own in a temporary folder, reached by its socket. `durable` keeps fsync on, for tests of what
 * survives; all others are faster without.
 */
export async function startPostgres({ durable = false } = {}): Promise<TestPostgres> {
  const folder = mkdtempSync(join(tmpdir(), "heatgate-pg-"));
  const user = serverUser();
  if (user) chownSync(folder, user.uid, user.gid);
  const data = join(folder, "data");
  const options = { ...user, stdio: "ignore", cwd: folder } as const;
  execFileSync(join(BIN, "initdb"), ["-D", data, "-U", "postgres", "-A", "trust", "--no-sync", "-E", "UTF8"], options);
  const flags = [`-k ${folder}`, "-c listen_addresses=", "-c max_connections=200"];
  if (!durable) flags.push("-c fsync=off", "-c synchronous_commit=off", "-c full_page_writes=off");

  const pgCtl = (...args: string[]) => execFileSync(join(BIN, "pg_ctl"), ["-D", data, "-s", ...args], options);
  const server: TestPostgres = {
    url: `postgres://postgres@/postgres?host=${encodeURIComponent(folder)}`,
    folder,
    async start() {
      const starting = spawn(
        join(BIN, "pg_ctl"),
        ["-D", data, "-s", "-w", "-t", "30", "-o", flags.join(" "), "-l", join(folder, "log"), "start"],
        options,
      );
      const code = await new Promise((resolve) => starting.once("exit", resolve));
      if (code !== 0) throw new Error(`PostgreSQL did not start; see ${folder}/log`);
    },
    stop(mode) {
      pgCtl("-w", "-m", mode, "stop");
    },
    async remove() {
      process.off("exit", removeNow);
      removeNow();
    },
  };
  // A test that is cut short must not leave a server behind.
  process.once("exit", removeNow);
  await server.start();
  return server;

  function removeNow(): void {
    if (existsSync(join(data, "postmaster.pid"))) server.stop("immediate");
    rmSync(folder, { recursive: true, force: true });
  }
}

const BIN = findBin();

/** pg_dump and the like, of the same version as the servers above. */
export const postgresProgram = (name: string): string => join(BIN, name);

function findBin(): string {
  const root = "/usr/lib/postgresql";
  const versions = existsSync(root) ? readdirSync(root).sort((left, right) => Number(right) - Number(left)) : [];
  const bin = versions.map((version) => join(root, version, "bin")).find((path) => existsSync(join(path, "initdb")));
  if (!bin) throw new Error("These tests need PostgreSQL: apt-get install postgresql");
  return bin;
}

/** The server refuses to run as root; Debian's package brings a user for it. */
function serverUser(): { uid: number; gid: number } | undefined {
  if (userInfo().uid !== 0) return undefined;
  const id = (flag: string) => Number(execFileSync("id", [flag, "postgres"], { encoding: "utf8" }));
  return { uid: id("-u"), gid: id("-g") };
}
