import { readdirSync, readFileSync } from "node:fs";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { createReader, type DocumentReader, type ReaderOptions } from "../../../worker/readers/read-document.js";
import { asRows } from "./read-in-process.js";
import { writeWorkbook } from "./write-workbook.js";
import { repeatDeflated } from "./write-zip.js";

let folder: string;
let reader: DocumentReader;

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), "heatgate-documents-"));
});
afterEach(() => reader.close());
afterAll(() => rm(folder, { recursive: true }));

function open(options: ReaderOptions = {}): void {
  reader = createReader({ children: 1, ...options });
}

async function read(bytes: Buffer | string) {
  const file = path.join(folder, `${Math.random()}`);
  await writeFile(file, bytes);
  return reader.read(file, { name: "document", mediaType: "application/octet-stream" });
}

const CSV = "Heat;C\nH4471;0,024\n";
const BIG_CSV = `Time;Load\n${"0,1;12,5\n".repeat(60_000)}`;
/** Megabytes of texts that all have to be kept. */
const HEAVY_WORKBOOK = writeHeavyWorkbook(60);

test("documents come back from the child as they were read, small and big ones", async () => {
  open();
  const small = await read(CSV);
  expect(small.ok && asRows(small.document.tables[0]!.cells)).toEqual([
    ["Heat", "C"],
    ["H4471", "0,024"],
  ]);
  const big = await read(BIG_CSV);
  expect(big.ok && big.document.tables[0]!.cells.at(-1)).toEqual({
    row: 60_000,
    column: 1,
    text: "12,5",
    place: { line: 60_001, column: 2 },
    confidence: 1,
  });
});

test("an empty file and one that is too large never reach a child", async () => {
  open({ budgets: { fileBytes: 20 } });
  expect(await read("")).toMatchObject({ ok: false, problem: { code: "empty-file" } });
  expect(await read("x".repeat(21))).toMatchObject({ ok: false, problem: { code: "too-large" } });
  expect(await read("x".repeat(20))).toMatchObject({ ok: true });
});

test("a child that takes too long is killed, and the next document is read", async () => {
  open({ budgets: { wallMs: 1_500, partBytes: 2 ** 30, inflatedBytes: 2 ** 30, sharedStrings: 1e7, heapMiB: 4_096 } });
  expect(await read(writeHeavyWorkbook(900))).toMatchObject({ ok: false, problem: { code: "timed-out" } });
  expect(await read(CSV)).toMatchObject({ ok: true });
});

test("a child that runs out of memory takes nothing with it", async () => {
  open({ budgets: { heapMiB: 40 } });
  expect(await read(HEAVY_WORKBOOK)).toMatchObject({ ok: false, problem: { code: "out-of-memory" } });
  expect(await read(CSV)).toMatchObject({ ok: true });
});

test("memory outside the heap counts too", async () => {
  open({ budgets: { residentMiB: 10 } });
  expect(await read(HEAVY_WORKBOOK)).toMatchObject({ ok: false, problem: { code: "out-of-memory" } });
});

test("a child killed from outside is a crash with advice, and the next document is read", async () => {
  open();
  await read(CSV);
  const reading = read(HEAVY_WORKBOOK);
  await new Promise((resolve) => setTimeout(resolve, 50));
  for (const pid of readerProcesses()) process.kill(pid, "SIGKILL");
  expect(await reading).toMatchObject({ ok: false, problem: { code: "reader-crashed", advice: expect.any(String) } });
  expect(await read(CSV)).toMatchObject({ ok: true });
});

test("more documents than children wait their turn", async () => {
  open({ children: 2, documentsPerChild: 2 });
  const results = await Promise.all(Array.from({ length: 7 }, () => read(CSV)));
  expect(results.every(({ ok }) => ok)).toBe(true);
});

test("the child sees none of the parent's environment", async () => {
  process.env.HEATGATE_TEST_SECRET = "planted";
  open();
  await read(CSV);
  for (const pid of readerProcesses()) expect(readFileSync(`/proc/${pid}/environ`, "latin1")).not.toContain("planted");
  delete process.env.HEATGATE_TEST_SECRET;
});

test("after closing, no process and no folder is left", async () => {
  open();
  await read(CSV);
  const before = readerFolders().length;
  await reader.close();
  expect(readerProcesses()).toEqual([]);
  expect(readerFolders().length).toBeLessThan(before);
  await expect(read(CSV)).rejects.toThrow("closed");
});

function writeHeavyWorkbook(megabytes: number): Buffer {
  const strings = repeatDeflated(`<si><t>${"x".repeat(1_000)}</t></si>`.repeat(100), megabytes * 10, "<sst>", "</sst>");
  return writeWorkbook({ sheets: ["<sheetData/>"], strings });
}

function readerProcesses(): number[] {
  return readdirSync("/proc")
    .map(Number)
    .filter((pid) => pid > 0 && isReader(pid));
}

function isReader(pid: number): boolean {
  try {
    const [, , , parent] = readFileSync(`/proc/${pid}/stat`, "latin1")
      .replace(/\(.*\)/, "()")
      .split(" ");
    return Number(parent) === process.pid && readFileSync(`/proc/${pid}/cmdline`, "latin1").includes("child-main");
  } catch {
    return false;
  }
}

function readerFolders(): string[] {
  return readdirSync(tmpdir()).filter((name) => name.startsWith("heatgate-reader-"));
}
