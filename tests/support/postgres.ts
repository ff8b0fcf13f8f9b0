import { execFileSync, spawn } from "node:child_process";
import {
  chownSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir, userInfo } from "node:os";
import { basename, dirname, join } from "node:path";

export interface TestPostgres {
  readonly url: string;
  readonly folder: string;
  start(): Promise<void>;
  /** fast: as an operator stops it. immediate: as a crash; what was not flushed is replayed or lost. */
  stop(mode: "fast" | "immediate"): void;
  /** Sets its clock to so far from the true one, within a second. Only where it was started with `clock`. */
  setClock(ms: number): void;
  /** SIGSTOP: everything it is connected to stays connected, and hears nothing. SIGCONT: it goes on. */
  signal(signal: "SIGSTOP" | "SIGCONT"): void;
  remove(): Promise<void>;
}

/**
 * A PostgreSQL server of its own in a temporary folder, reached by its socket. `durable` keeps fsync on, for tests of what
 * survives; all others are faster without. `clock`: with a wall clock of its own, by libfaketime.
 */
export async function startPostgres({ durable = false, clock = false } = {}): Promise<TestPostgres> {
  const folder = mkdtempSync(join(tmpdir(), "heatgate-pg-"));
  const user = serverUser();
  if (user) chownSync(folder, user.uid, user.gid);
  const data = join(folder, "data");
  const options = { ...user, stdio: "ignore", cwd: folder } as const;
  copyEmptyCluster(data, user);
  const flags = [`-k ${folder}`, "-c listen_addresses=", "-c max_connections=200"];
  if (!durable) flags.push("-c fsync=off", "-c synchronous_commit=off", "-c full_page_writes=off");

  const pgCtl = (...args: string[]) => execFileSync(join(BIN, "pg_ctl"), ["-D", data, "-s", ...args], options);
  const clockFile = join(folder, "clock");
  const setClock = (ms: number) => {
    // Renamed into place: the server reads it at any moment.
    writeFileSync(`${clockFile}.new`, `${ms < 0 ? "" : "+"}${ms / 1_000}s`);
    renameSync(`${clockFile}.new`, clockFile);
  };
  if (clock) setClock(0);
  const server: TestPostgres = {
    url: `postgres://postgres@/postgres?host=${encodeURIComponent(folder)}`,
    folder,
    async start() {
      const starting = spawn(
        join(BIN, "pg_ctl"),
        ["-D", data, "-s", "-w", "-t", "30", "-o", flags.join(" "), "-l", join(folder, "log"), "start"],
        { ...options, env: { ...process.env, ...(clock && ownClock(clockFile)) } },
      );
      const code = await new Promise((resolve) => starting.once("exit", resolve));
      if (code !== 0) throw new Error(`PostgreSQL did not start; see ${folder}/log`);
    },
    stop(mode) {
      pgCtl("-w", "-m", mode, "stop");
    },
    setClock,
    signal(signal) {
      const postmaster = readFileSync(join(data, "postmaster.pid"), "utf8").split("\n", 1)[0]!;
      const children = execFileSync("ps", ["-o", "pid=", "--ppid", postmaster], { encoding: "utf8" });
      for (const pid of [postmaster, ...children.split("\n")].filter((line) => line.trim() !== ""))
        tell(Number(pid), signal);
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
    if (existsSync(join(data, "postmaster.pid"))) {
      server.signal("SIGCONT");
      server.stop("immediate");
    }
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A cluster as initdb leaves it: a second's work, and always the same; so it is made once on this machine and copied. */
function copyEmptyCluster(to: string, user: ServerUser | undefined): void {
  const options = { ...user, stdio: "ignore", cwd: tmpdir() } as const;
  const empty = join(tmpdir(), `heatgate-empty-postgres-${basename(dirname(BIN))}-${user?.uid ?? userInfo().uid}`);
  if (!existsSync(empty)) {
    const making = mkdtempSync(`${empty}-`);
    if (user) chownSync(making, user.uid, user.gid);
    const made = join(making, "data");
    execFileSync(
      join(BIN, "initdb"),
      ["-D", made, "-U", "postgres", "-A", "trust", "--no-sync", "-E", "UTF8"],
      options,
    );
    try {
      renameSync(made, empty);
    } catch (error) {
      // Another test file was quicker.
      if (!existsSync(empty)) throw error;
    }
    rmSync(making, { recursive: true, force: true });
  }
  execFileSync("cp", ["-a", empty, to], options);
}

/** A backend may have ended since it was listed. */
function tell(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(pid, signal);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ESRCH") throw error;
  }
}

const BIN = findBin();

/** pg_dump and the like, of the same version as the servers above. */
export const postgresProgram = (name: string): string => join(BIN, name);

/** The monotonic clock goes on as it is, as it does where a time server sets the clock. */
function ownClock(file: string): Readonly<Record<string, string>> {
  const root = "/usr/lib";
  const library = readdirSync(root)
    .map((architecture) => join(root, architecture, "faketime/libfaketime.so.1"))
    .find((path) => existsSync(path));
  if (!library) throw new Error("This needs libfaketime: apt-get install libfaketime");
  return {
    LD_PRELOAD: library,
    FAKETIME_TIMESTAMP_FILE: file,
    FAKETIME_CACHE_DURATION: "1",
    FAKETIME_DONT_FAKE_MONOTONIC: "1",
    DONT_FAKE_MONOTONIC: "1",
  };
}

function findBin(): string {
  const root = "/usr/lib/postgresql";
  const versions = existsSync(root) ? readdirSync(root).sort((left, right) => Number(right) - Number(left)) : [];
  const bin = versions.map((version) => join(root, version, "bin")).find((path) => existsSync(join(path, "initdb")));
  if (!bin) throw new Error("These tests need PostgreSQL: apt-get install postgresql");
  return bin;
}

interface ServerUser {
  readonly uid: number;
  readonly gid: number;
}

/** The server refuses to run as root; Debian's package brings a user for it. */
function serverUser(): ServerUser | undefined {
  if (userInfo().uid !== 0) return undefined;
  const id = (flag: string) => Number(execFileSync("id", [flag, "postgres"], { encoding: "utf8" }));
  return { uid: id("-u"), gid: id("-g") };
}
