import { type ChildProcess, spawn } from "node:child_process";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";

export interface Child {
  readonly process: ChildProcess;
  readonly lines: readonly string[];
  /** Resolves with the lines so far when `enough` says so; rejects when the process ends before. */
  until(enough: (lines: readonly string[]) => boolean): Promise<readonly string[]>;
  kill(signal?: NodeJS.Signals): Promise<void>;
}

/** Runs a TypeScript file, named from this folder, in a process of its own; what was compiled of it where this was compiled. */
export function startChild(file: string, args: readonly string[], environment: NodeJS.ProcessEnv = {}): Child {
  const fromSources = import.meta.url.endsWith(".ts");
  const path = fileURLToPath(new URL(fromSources ? file : file.replace(/[.]ts$/, ".js"), import.meta.url));
  const child = spawn(process.execPath, [...(fromSources ? ["--import", "tsx"] : []), path, ...args], {
    stdio: ["ignore", "pipe", "inherit"],
    env: { ...process.env, ...environment },
  });
  const lines: string[] = [];
  const listeners = new Set<() => void>();
  createInterface({ input: child.stdout }).on("line", (line) => {
    lines.push(line);
    for (const listener of listeners) listener();
  });
  const killNow = () => void child.kill("SIGKILL");
  process.once("exit", killNow);
  const gone = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  void gone.then(() => process.off("exit", killNow));
  return {
    process: child,
    lines,
    until: (enough) =>
      new Promise((resolve, reject) => {
        const look = () => {
          if (!enough(lines)) return;
          listeners.delete(look);
          resolve(lines);
        };
        listeners.add(look);
        void gone.then(() => reject(new Error(`${file} ended too early; it said:\n${lines.join("\n")}`)));
        look();
      }),
    async kill(signal = "SIGKILL") {
      if (child.exitCode !== null || child.signalCode !== null) return;
      child.kill(signal);
      await gone;
    },
  };
}
