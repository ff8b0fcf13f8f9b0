import { rmSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import path from "node:path";
import { createMeter } from "../meter.js";
import { packedLines } from "../packed-document.js";
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
    const lines = await carryOut(job);
    const begun: string[] = [];
    let length = 0;
    for (const line of lines) {
      begun.push(line);
      length += line.length;
      if (length <= CHANNEL_BYTES) continue;
      await writeFile(RESULT_FILE, withinBytes(begun, lines, job.budgets.resultBytes));
      return { kind: "answer-file" };
    }
    return { kind: "answer", lines: begun };
  } catch (error) {
    if (error instanceof Error && error.name === "RecogniserFault") return { kind: "fault", message: error.message };
    return { kind: "problem", problem: explain(error) };
  }
}

/** What was taken from `rest` already, and then `rest`, each as a line. */
function* withinBytes(begun: string[], rest: Iterator<string>, limitBytes: number): Generator<string> {
  let bytes = 0;
  const ended = (line: string) => {
    bytes += line.length + 1;
    if (bytes > limitBytes) {
      throw new ReadFailure("result-too-large", "The document holds more than can be handed on.");
    }
    return `${line}\n`;
  };
  for (const line of begun.splice(0)) yield ended(line);
  for (let next = rest.next(); !next.done; next = rest.next()) yield ended(next.value);
}

async function carryOut({ path: file, hint, budgets, crop, position }: ReadJob): Promise<Generator<string>> {
  const bytes = await readFile(file);
  const meter = createMeter(budgets, () => send({ kind: "scanned-page" }));
  if (!crop) {
    const document = await readBytes(bytes, hint, meter);
    if (position === undefined) return packedLines(document);
    // Loaded when it is needed first: a child that starts has a document to read meanwhile.
    const { recognisedLines } = await import("../recognised-document.js");
    return recognisedLines(document, position);
  }
  const { cropPictures } = await import("../scan/crop-pictures.js");
  return pictureLines(await cropPictures(bytes, crop, meter));
}

function* pictureLines(pictures: readonly (Buffer | undefined)[]): Generator<string> {
  for (const picture of pictures) yield JSON.stringify(picture?.toString("base64") ?? null);
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
