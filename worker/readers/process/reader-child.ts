import { type ChildProcess, fork } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { ReadDocument } from "../../../core/recogniser/cells.js";
import type { ReadBudgets } from "../budgets.js";
import { type PackedDocument, unpackDocument } from "../packed-document.js";
import { type ReadProblem, readProblem } from "../problem.js";
import type { ReadResult } from "../read-result.js";
import type { ChildMessage, ReadJob } from "./message.js";
import { watchResidentMemory } from "./resident-memory.js";
import { readResultFile } from "./result-file.js";

export interface ReaderChild {
  /** Resolves whatever happens to the child. One document at a time. */
  run(job: ReadJob): Promise<ReadResult>;
  documentsRead(): number;
  stop(): Promise<void>;
}

const STDERR_KEPT = 4_096;

export function startReaderChild(budgets: ReadBudgets): ReaderChild {
  const folder = mkdtempSync(path.join(tmpdir(), "heatgate-reader-"));
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
    async run(job) {
      documents++;
      await ready;
      const answer = await ask(job);
      return "code" in answer ? { ok: false, problem: answer } : takeDocument(answer, job);
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
      const timer = setTimeout(
        () => kill(readProblem("timed-out", `Reading took longer than ${job.budgets.wallMs / 1000} seconds.`)),
        job.budgets.wallMs,
      );
      const unwatch = watchResidentMemory(child.pid, job.budgets.residentMiB, () =>
        kill(readProblem("out-of-memory", `Reading took more than ${job.budgets.residentMiB} MiB of memory.`)),
      );
      const settle = (answer: ChildMessage | ReadProblem) => {
        clearTimeout(timer);
        unwatch();
        child.removeAllListeners("message");
        resolve(answer);
      };
      child.on("message", (message: ChildMessage) => settle(message));
      void exited.then((how) => settle(killedFor ?? explainExit(how, lastWords)));
      if (child.connected) child.send({ kind: "read", job }, () => {});
    });
  }

  async function takeDocument(message: ChildMessage, job: ReadJob): Promise<ReadResult> {
    if (message.kind === "problem") return { ok: false, problem: message.problem };
    if (message.kind === "document") return { ok: true, document: unpack(message.encoded) };
    const encoded = await readResultFile(folder, job.budgets.resultBytes);
    if (encoded === undefined) {
      return { ok: false, problem: readProblem("result-too-large", "The document holds more than can be handed on.") };
    }
    return { ok: true, document: unpack(encoded) };
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

function unpack(encoded: string): ReadDocument {
  return unpackDocument(JSON.parse(encoded) as PackedDocument);
}

function explainExit(how: string, lastWords: string): ReadProblem {
  if (/heap out of memory|Allocation failed|allocation failed/.test(lastWords)) {
    return readProblem("out-of-memory", "Reading took more memory than allowed.");
  }
  return readProblem("reader-crashed", `The reading process ended without an answer (${how}).`);
}
