import { type ChildProcess, fork } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { ReadBudgets } from "../budgets.js";
import { type ReadProblem, readProblem } from "../problem.js";
import { type ChildMessage, FOLDER_PREFIX, type ReadAnswer, type ReadJob, type TakeLine } from "./message.js";
import { watchResidentMemory } from "./resident-memory.js";
import { readResultFile } from "./result-file.js";

export interface ReaderChild {
  /** Resolves whatever happens to the child. One document at a time. */
  run(job: ReadJob, takeLine: TakeLine): Promise<ReadAnswer>;
  documentsRead(): number;
  stop(): Promise<void>;
}

const STDERR_KEPT = 4_096;

export function startReaderChild(budgets: ReadBudgets): ReaderChild {
  const folder = mkdtempSync(path.join(tmpdir(), FOLDER_PREFIX));
  const child = forkInto(folder, budgets);
  let documents = 0;
  let lastWords = "";
  child.stderr?.on("data", (chunk: Buffer) => {
    lastWords = (lastWords + chunk.toString("latin1")).slice(-STDERR_KEPT);
  });
  const exited = new Promise<string>((resolve) => {
    child.once("error", (error) => resolve(error.message));
    child.once("close", (code, signal) => resolve(signal ?? `exit code ${code}`));
  }).then(async (how) => {
    await rm(folder, { recursive: true, force: true });
    return how;
  });
  const ready = new Promise<void>((resolve) => {
    child.once("message", () => resolve());
    void exited.then(() => resolve());
  });

  return {
    async run(job, takeLine) {
      documents++;
      await ready;
      const answer = await ask(job);
      return "code" in answer ? { ok: false, problem: answer } : takeAnswer(answer, job, takeLine);
    },
    documentsRead: () => documents,
    async stop() {
      child.kill("SIGKILL");
      await exited;
    },
  };

  function ask(job: ReadJob): Promise<ChildMessage | ReadProblem> {
    return new Promise((resolve) => {
      let killedFor: ReadProblem | undefined;
      const kill = (problem: ReadProblem) => {
        killedFor ??= problem;
        child.kill("SIGKILL");
      };
      const { wallMs, scannedPageMs, scannedPages } = job.budgets;
      const startTimer = (ms: number) =>
        setTimeout(() => kill(readProblem("timed-out", "Reading took longer than the time allowed.")), ms);
      let deadlineMs = Date.now() + wallMs;
      let timer = startTimer(wallMs);
      let extensions = 0;
      const extend = () => {
        if (++extensions > scannedPages) return;
        deadlineMs += scannedPageMs;
        clearTimeout(timer);
        timer = startTimer(deadlineMs - Date.now());
      };
      const unwatch = watchResidentMemory(child.pid, job.budgets.residentMiB, () =>
        kill(readProblem("out-of-memory", `Reading took more than ${job.budgets.residentMiB} MiB of memory.`)),
      );
      const settle = (answer: ChildMessage | ReadProblem) => {
        clearTimeout(timer);
        unwatch();
        child.removeAllListeners("message");
        resolve(answer);
      };
      child.on("message", (message: ChildMessage) => (message.kind === "scanned-page" ? extend() : settle(message)));
      void exited.then((how) => settle(killedFor ?? explainExit(how, lastWords)));
      if (child.connected) child.send({ kind: "read", job }, () => {});
    });
  }

  async function takeAnswer(message: ChildMessage, job: ReadJob, takeLine: TakeLine): Promise<ReadAnswer> {
    if (message.kind === "problem") return { ok: false, problem: message.problem };
    if (message.kind === "fault") {
      return { ok: false, problem: readProblem("reader-crashed", message.message), fault: message.message };
    }
    if (message.kind === "answer") {
      message.lines.forEach(takeLine);
      return { ok: true };
    }
    if (await readResultFile(folder, job.budgets.resultBytes, takeLine)) return { ok: true };
    return { ok: false, problem: readProblem("result-too-large", "The document holds more than can be handed on.") };
  }
}

function forkInto(folder: string, budgets: ReadBudgets): ChildProcess {
  const fromSources = import.meta.url.endsWith(".ts");
  const entry = fileURLToPath(new URL(`./child-main.${fromSources ? "ts" : "js"}`, import.meta.url));
  const loader = fromSources ? ["--import", pathToFileURL(createRequire(import.meta.url).resolve("tsx")).href] : [];
  return fork(entry, [], {
    cwd: folder,
    // Nothing is inherited: keys and connection strings in the parent's environment are none of a parser's business.
    env: { TZ: "UTC", LANG: "C.UTF-8", NODE_ENV: "production", TMPDIR: tmpdir() },
    execArgv: [
      ...loader,
      `--max-old-space-size=${budgets.heapMiB}`,
      // A document must not reach Object.prototype through a key of that name, in our code or in a library's.
      "--disable-proto=delete",
    ],
    stdio: ["ignore", "ignore", "pipe", "ipc"],
  });
}

function explainExit(how: string, lastWords: string): ReadProblem {
  if (/heap out of memory|Allocation failed|allocation failed/.test(lastWords)) {
    return readProblem("out-of-memory", "Reading took more memory than allowed.");
  }
  return readProblem("reader-crashed", `The reading process ended without an answer (${how}).`);
}
