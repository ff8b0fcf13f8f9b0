import { rmSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import path from "node:path";
import { createMeter } from "../meter.js";
import { ReadFailure, type ReadProblem, readProblem } from "../problem.js";
import { readBytes } from "../read-bytes.js";
import { type ChildMessage, FOLDER_PREFIX, type ParentMessage, RESULT_FILE, type ReadJob } from "./message.js";
import { warmUp } from "./warm-up.js";

const CHANNEL_BYTES = 256 * 1024;

/** Where a document waits already, as in the batch command, it comes before warming up. */
const IDLE_MS = 100;
let idle: NodeJS.Timeout | undefined;
// Compiling from sources takes seconds, so a child of the tests waits for its first document cold.
let isWarm = import.meta.url.endsWith(".ts");

process.on("message", async ({ job }: ParentMessage) => {
  clearTimeout(idle);
  send(await answer(job));
  warmUpWhenIdle();
});
// The parent is gone: nobody waits for the answer, and nobody else clears this child's own folder away.
process.on("disconnect", () => {
  if (path.basename(process.cwd()).startsWith(FOLDER_PREFIX)) rmSync(process.cwd(), { recursive: true, force: true });
  process.exit();
});
send({ kind: "ready" });
warmUpWhenIdle();

function warmUpWhenIdle(): void {
  if (isWarm) return;
  idle = setTimeout(() => {
    isWarm = true;
    void warmUp().catch(() => {});
  }, IDLE_MS);
}

async function answer(job: ReadJob): Promise<ChildMessage> {
  try {
    const encoded = JSON.stringify(await carryOut(job));
    if (encoded.length > job.budgets.resultBytes) {
      throw new ReadFailure("result-too-large", "The document holds more than can be handed on.");
    }
    if (encoded.length <= CHANNEL_BYTES) return { kind: "answer", encoded };
    await writeFile(RESULT_FILE, encoded);
    return { kind: "answer-file" };
  } catch (error) {
    return { kind: "problem", problem: explain(error) };
  }
}

async function carryOut({ path: file, hint, budgets, crop }: ReadJob): Promise<unknown> {
  const bytes = await readFile(file);
  const meter = createMeter(budgets, () => send({ kind: "scanned-page" }));
  if (!crop) return readBytes(bytes, hint, meter);
  const { cropPictures } = await import("../scan/crop-pictures.js");
  const pictures = await cropPictures(bytes, crop, meter);
  return pictures.map((picture) => picture?.toString("base64") ?? null);
}

function explain(error: unknown): ReadProblem {
  if (error instanceof ReadFailure) return readProblem(error.code, error.message);
  // Not expected of any document, so it is ours to look into; the document is still refused by name.
  const words = error instanceof Error ? error.message : String(error);
  return readProblem("reader-crashed", `The document could not be read: ${words.slice(0, 200)}`);
}

function send(message: ChildMessage): void {
  process.send?.(message);
}
